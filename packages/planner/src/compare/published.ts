/**
 * What has been published of decoction against infusion, with what contradicts it. Quoted as reported:
 * no figure of a plan is made from it, and nothing of it promises flavour.
 */

export type FindingTopic = 'attenuation' | 'colour' | 'extract' | 'sensory' | 'enzymes' | 'time';

export interface PublishedFinding {
  readonly id: string;
  readonly topic: FindingTopic;
  readonly finding: string;
  readonly source: string;
  /** Published: a paper or handbook. Trade: a trial of brewers, not refereed. */
  readonly kind: 'published' | 'trade';
  /** Ids of findings that it does not agree with. */
  readonly against: readonly string[];
}

/** Two findings that do not agree, in words. */
export interface Contradiction {
  readonly topic: FindingTopic;
  readonly of: readonly [string, string];
  readonly text: string;
}

const FINDINGS: readonly PublishedFinding[] = [
  {
    id: 'pehlivani',
    topic: 'attenuation',
    finding: 'Apparent attenuation 82.33 % by one decoction, 80.61 % by infusion.',
    source: 'Pehlivani & Prifti 2013',
    kind: 'published',
    against: ['montanari', 'enge-sugars', 'handbook-attenuation'],
  },
  {
    id: 'montanari',
    topic: 'attenuation',
    finding:
      'Industrial brews: one decoction with infusion gave more fermentable sugar than two decoctions; beers not considerably different.',
    source: 'Montanari et al. 2005',
    kind: 'published',
    against: ['pehlivani'],
  },
  {
    id: 'enge-sugars',
    topic: 'attenuation',
    finding:
      'Infusion and one, two and three decoctions of one malt at pilot scale: sugars comparable.',
    source: 'Enge et al., Kvasny prumysl 51(5):158, 2005',
    kind: 'published',
    against: ['pehlivani'],
  },
  {
    id: 'handbook-attenuation',
    topic: 'attenuation',
    finding: 'Decoction worts are as fermentable as infusion worts.',
    source: '19th-century handbook, public domain',
    kind: 'published',
    against: ['pehlivani'],
  },
  {
    id: 'enge-colour',
    topic: 'colour',
    finding:
      'The clearest differences between infusion and decoctions of one malt: wort colour and coagulable nitrogen.',
    source: 'Enge et al., Kvasny prumysl 51(5):158, 2005',
    kind: 'published',
    against: [],
  },
  {
    id: 'kvasny-2017',
    topic: 'colour',
    finding:
      'After decoction, beer colour could not be foretold from malt colour (11 varieties, three years).',
    source: 'Kvasny prumysl 63:248, 2017',
    kind: 'published',
    against: [],
  },
  {
    id: 'kvasny-1981',
    topic: 'extract',
    finding: 'Long pilot work: use of extract best with two decoctions, no gain with one.',
    source: 'Kvasny prumysl 27:222, 1981',
    kind: 'published',
    against: ['home-extract'],
  },
  {
    id: 'home-extract',
    topic: 'extract',
    finding: 'Three decoctions raised the yield of the mash over one without.',
    source: 'blind home trial, 2012; common practice, not refereed',
    kind: 'trade',
    against: ['kvasny-1981'],
  },
  {
    id: 'handbook-enzymes',
    topic: 'enzymes',
    finding: 'Boiling the clear mash costs more enzyme than boiling the thick.',
    source: '19th-century handbook, public domain',
    kind: 'published',
    against: [],
  },
  {
    id: 'montanari-sensory',
    topic: 'sensory',
    finding:
      'No considerable difference between the beers; the shorter mash saved time and energy.',
    source: 'Montanari et al. 2005',
    kind: 'published',
    against: ['club-sensory'],
  },
  {
    id: 'home-sensory',
    topic: 'sensory',
    finding:
      'Three decoctions against no sparge with 5 % melanoidin malt, blind: 57 % preferred the malt, 14 % the decoction, 29 % neither; no significant scores; the malt does not copy the decoction.',
    source: 'blind home trial, 2012; common practice, not refereed',
    kind: 'trade',
    against: ['club-sensory'],
  },
  {
    id: 'club-sensory',
    topic: 'sensory',
    finding:
      '24 tasters told the beers apart; step mash and melanoidin malt alike in malt flavour, decoction richer to the judges.',
    source: 'club trial, 2015; common practice, not refereed',
    kind: 'trade',
    against: ['montanari-sensory', 'home-sensory'],
  },
  {
    id: 'goldammer-time',
    topic: 'time',
    finding: 'A three-step decoction takes about six hours.',
    source: 'Goldammer, brewing handbook',
    kind: 'published',
    against: [],
  },
];

/**
 * What is published of decoction against infusion.
 * @param topic left out: all of it
 * @returns findings with their sources; `against` names those they do not agree with
 * @source each finding names its own; wort-to-beer.md 8 and mash.md 14
 */
export function publishedComparisons(topic?: FindingTopic): readonly PublishedFinding[] {
  return topic === undefined ? FINDINGS : FINDINGS.filter((f) => f.topic === topic);
}

/** Each pair of findings that do not agree, once. */
export function contradictions(): readonly Contradiction[] {
  const by = new Map(FINDINGS.map((f) => [f.id, f]));
  return FINDINGS.flatMap((f) =>
    f.against.flatMap((id): Contradiction[] => {
      const other = by.get(id);
      // A pair is told by whichever stands first.
      if (!other || FINDINGS.indexOf(other) < FINDINGS.indexOf(f)) return [];
      const text = `${f.finding} (${f.source}) Against that: ${other.finding} (${other.source})`;
      return [{ topic: f.topic, of: [f.id, id], text }];
    }),
  );
}
