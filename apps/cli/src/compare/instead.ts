/** `compare FILE --instead`: the grist without a pull that stands in for the decoction. */
import {
  type KilnedGrist,
  type PlanDocument,
  publishedComparisons,
  type Substitution,
} from '@ladlework/planner';
import { format, sentenceIn, type UnitPair } from '@ladlework/quantity';
import { columns } from '../output.ts';
import { kilnedJson } from './compare-json.ts';
import { plainBand, wrapped } from './text.ts';

/** The grist, or why there is none, what would do, and the nearest there is. */
export function insteadText(document: PlanDocument, found: Substitution, pair: UnitPair): string {
  const head = wrapped(`${document.beer.name}: instead of boiling`, '');
  const grist = found.ok ? found.grist : found.nearest;
  return [
    head,
    ...(found.ok
      ? []
      : [
          [found.whyNot, found.wouldDo ?? '']
            .filter((s) => s !== '')
            .map((s) => wrapped(sentenceIn(s, pair), ''))
            .join('\n'),
        ]),
    ...(grist
      ? [`${found.ok ? '' : 'The nearest, which misses:\n'}${kilnedText(grist, pair)}`]
      : []),
    'Published of the taste, and not agreed\n' +
      publishedComparisons('sensory')
        .map((f) => wrapped(`${f.finding} (${f.source})`, '  '))
        .join('\n'),
  ]
    .map((part) => `${part}\n`)
    .join('\n');
}

export function insteadJson(found: Substitution) {
  if (found.ok)
    return { feasible: true, grist: kilnedJson(found.grist), mash: found.document.mash };
  return {
    feasible: false,
    why_not: found.whyNot,
    ...(found.wouldDo === undefined ? {} : { would_do: found.wouldDo }),
    ...(found.nearest === undefined ? {} : { nearest: kilnedJson(found.nearest) }),
  };
}

/** The grist with what was matched and what was checked. */
export function kilnedText(kilned: KilnedGrist, pair: UnitPair): string {
  const { colourEbc, diastaticWk, ph, cost } = kilned;
  const malts = kilned.malts.map((m) => [
    m.name,
    m.kg === 0 ? 'none' : format('mass', m.kg, pair),
    m.wasKg === 0 ? 'from the store' : `was ${format('mass', m.wasKg, pair)}`,
    `${(100 * m.share).toFixed(1)} %`,
    m.bags === undefined ? '' : `${m.bags.toFixed(1)} bags`,
  ]);
  const facts = [
    `colour ${colourEbc.got.toFixed(1)} EBC, wanted ${colourEbc.wanted.toFixed(1)} of which the boils gave ${plainBand(colourEbc.boils, 1)}`,
    `extract ${format('mass', kilned.extractKg.got, pair)}, wanted ${format('mass', kilned.extractKg.wanted, pair)}`,
    `diastatic power ${diastaticWk.got.toFixed(0)} °WK, at least ${diastaticWk.least.toFixed(0)} asked for`,
    `mash pH ${ph.band.low.toFixed(2)} to ${ph.band.high.toFixed(2)}, the own grist ${ph.own.toFixed(2)}`,
    ...(cost
      ? [`malt ${cost.got.toFixed(2)} ${cost.currency}, the own grist ${cost.was.toFixed(2)}`]
      : []),
  ];
  return [
    'Kilned malts, no pull',
    columns(malts, '  '),
    ...facts.map((f) => wrapped(f, '  ')),
    wrapped(sentenceIn(kilned.text, pair), '  '),
    ...kilned.notes.map((n) => wrapped(sentenceIn(n, pair), '  ')),
  ].join('\n');
}
