/** The ways as a page for the brewer, 80 columns wide. */
import {
  type Figures,
  type KilnedGrist,
  type Menu,
  type Method,
  maltCost,
  type PlanDocument,
  type Proof,
  pricesOf,
  type Way,
  type WortForecast,
} from '@ladlework/planner';
import { formatBand, sentenceIn, type UnitPair } from '@ladlework/quantity';
import { columns } from '../output.ts';
import { kilnedText } from './instead.ts';
import { plainBand, wrapped } from './text.ts';

const NAMES: Readonly<Record<Method, string>> = {
  infusion: 'infusion',
  'step-infusion': 'step infusion',
  'direct-heat': 'direct heat',
  'one-pull': 'one pull',
  'two-pulls': 'two pulls',
  'three-pulls': 'three pulls',
  'kettle-mash': 'kettle mash',
  'no-pull-kilned-malts': 'kilned malts',
};

/** A way whose figures are there. */
interface Made extends Way {
  readonly figures: Figures;
  readonly wort: WortForecast;
}

/**
 * The ways side by side: work, what it takes and gives, differences, and why some cannot be.
 *
 * @param document the brewer's own plan
 * @param ways from waysOf
 * @param menu from menuOf
 * @param proof from proofOfNo, when the plan in the file cannot be done
 * @param pair the brewer's units
 */
export function comparePage(
  document: PlanDocument,
  ways: readonly Way[],
  menu: Menu,
  proof: Proof | undefined,
  pair: UnitPair,
): string {
  const made = ways.filter((w): w is Made => w.figures !== undefined && w.wort !== undefined);
  return [
    wrapped(`${document.beer.name} on ${document.kit.name}: ways to brew it`, ''),
    made.length > 0 ? `${workTable(made, pair)}\n\n${yieldTable(made, pair)}` : '',
    againstTable(made),
    ...made.filter((w) => w.kilned).map((w) => kilnedText(w.kilned as KilnedGrist, pair)),
    whyNotText(ways, pair),
    proof ? proofText(proof, pair) : '',
    menuText(menu, pair),
    wrapped(
      `Hours are those of the whole day, by its timetable. Hands, loads and energy are those of the mash; carried is what goes by bucket or ladle. ${costText(document)} Nothing here speaks of flavour.`,
      '',
    ),
  ]
    .filter((part) => part !== '')
    .map((part) => `${part}\n`)
    .join('\n');
}

function workTable(made: readonly Made[], pair: UnitPair): string {
  const rows = made.map((w) => [
    NAMES[w.method],
    plainBand(w.figures.finishH, 1),
    plainBand(w.figures.handsBusyMin, 0),
    w.figures.carriedKg.high > 0 ? formatBand('mass', w.figures.carriedKg, pair) : '-',
  ]);
  return `Time and work\n${columns([['way', 'hours', 'minutes of hands', 'carried'], ...rows], '  ')}`;
}

function yieldTable(made: readonly Made[], pair: UnitPair): string {
  const rows = made.map((w) => [
    NAMES[w.method],
    plainBand(w.figures.energyKWh, 0),
    plainBand(w.figures.cost, 0),
    formatBand('mass', w.wort.extractKg, pair),
    plainBand(w.wort.limitApparentNarrowPct, 1),
  ]);
  const head = ['way', 'energy kWh', 'cost', 'extract', 'limit % (to compare)'];
  return `What it takes and gives\n${columns([head, ...rows], '  ')}`;
}

function againstTable(made: readonly Made[]): string {
  const rows = made.flatMap((w) =>
    w.against
      ? [
          [
            NAMES[w.method],
            plainBand(w.against.finishH, 1, true),
            plainBand(w.against.handsBusyMin, 0, true),
            plainBand(w.against.energyKWh, 0, true),
            plainBand(w.against.limitApparentPoints, 1, true),
          ],
        ]
      : [],
  );
  if (rows.length === 0) return '';
  const head = ['way', 'hours', 'minutes of hands', 'energy kWh', 'limit, points'];
  return `Against the plan as written, kit for kit\n${columns([head, ...rows], '  ')}`;
}

function whyNotText(ways: readonly Way[], pair: UnitPair): string {
  const not = ways.filter((w) => !w.feasible);
  if (not.length === 0) return '';
  const lines = not.map((w) => wrapped(`${NAMES[w.method]}: ${sentenceIn(w.whyNot, pair)}`, '  '));
  return `Not on this kit\n${lines.join('\n')}`;
}

/** The limits that clash, and the smallest change that frees each. */
function proofText(proof: Proof, pair: UnitPair): string {
  const sets = proof.sets.map((set) => {
    const limits = set.limits.map(({ text, change }) =>
      wrapped(
        sentenceIn(
          change
            ? `${text}: ${change.text} would do`
            : `${text}: only together with another change`,
          pair,
        ),
        '    ',
      ),
    );
    return [wrapped(sentenceIn(set.text, pair), '  '), ...limits].join('\n');
  });
  return `Why the plan as written cannot be done\n${sets.join('\n')}`;
}

/** Plans of the menu, each with its reason and its hours, hands and loads. */
function menuText(menu: Menu, pair: UnitPair): string {
  if (menu.plans.length === 0) return '';
  const plans = menu.plans.map((p, i) => {
    const { finishH, handsBusyMin, energyKWh } = p.figures;
    const figures = `${plainBand(finishH, 1)} h, ${plainBand(handsBusyMin, 0)} min of hands, ${plainBand(energyKWh, 0)} kWh, limit ${plainBand(p.wort.limitApparentNarrowPct, 1)} %, a rest missed in ${Math.round(100 * p.missChance)} of 100`;
    return [
      wrapped(`${i + 1} ${sentenceIn(p.what, pair)}`, '  '),
      wrapped(sentenceIn(p.reason, pair), '    '),
      wrapped(figures, '    '),
    ].join('\n');
  });
  const counted = `${menu.screened} plans were screened by heat and mass, ${menu.infeasible} of them this kit cannot do; ${menu.played} went through the mash.`;
  return `Menu: none of these is beaten in everything by another\n${plans.join('\n')}\n${wrapped(counted, '  ')}`;
}

/** What a cost is made of, and whose prices it is reckoned with. */
function costText(document: PlanDocument): string {
  const prices = pricesOf(document);
  const priced = maltCost(document.beer.malts, prices) !== undefined;
  const of = priced
    ? 'malt, work and energy'
    : 'work and energy, malt left out for want of a price';
  if (prices.own)
    return `Costs are ${of}, in ${prices.currency || 'the money'} of the file's price list.`;
  return `Costs are ${of}, at ${prices.perHour} an hour and ${prices.perKWh.toFixed(2)} a kWh until the file names prices.`;
}
