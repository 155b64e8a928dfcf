/** Why no grist of these lots matches, and what lot bought would. */
import { ebcFromSrm, maltColourUnits, srmFromColourUnits } from '@ladlework/matter';
import type { MaltLot, StockLot } from '../document.ts';
import {
  type Ask,
  type Choice,
  extremeShares,
  LIMITS,
  type Limit,
  sharesFor,
} from './substitute.ts';

/** Lots a maltster sells, to try whether one of them would do. @source malts.csv; wort-to-beer.md 8 */
const FOR_SALE: readonly { readonly text: string; readonly lot: StockLot }[] = [
  { text: 'a pale malt of 3.5 EBC and 280 °WK', lot: baseMalt(3.5, 280, 80.5) },
  { text: 'a Munich malt of 16 EBC', lot: baseMalt(16, 80, 78) },
  { text: 'a dark Munich malt of 25 EBC', lot: baseMalt(25, 80, 78) },
  { text: 'a melanoidin malt of 70 EBC', lot: baseMalt(70, 0, 78) },
  {
    text: 'a dark caramel malt of 170 EBC',
    lot: { name: 'for sale', type: 'caramel', certificate: { colourEbc: 170, extractFinePct: 70 } },
  },
];

function baseMalt(colourEbc: number, diastaticWk: number, extractFinePct: number): StockLot {
  return {
    name: 'for sale',
    type: 'base',
    certificate: { colourEbc, diastaticWk, extractFinePct, moisturePct: 4.5 },
  };
}

const SAID: Readonly<Record<Limit, (ask: Ask, lots: readonly MaltLot[]) => string>> = {
  extract: (ask) =>
    `these lots cannot give ${ask.extractKg.toFixed(1)} kg of extract at that colour`,
  colour: (ask) => colourSaid(ask),
  enzymes: (ask) =>
    `the grist that matches has under ${ask.leastWk.toFixed(0)} °WK and is not trusted to convert itself`,
  ph: () => 'the grist that matches leaves the mash pH kept',
  shares: (_, lots) =>
    `more of one lot would be wanted than is usual of its kind (${lots.map((m) => m.name).join(', ')})`,
  store: (ask, lots) => storeSaid(ask, lots),
};

/**
 * The limits that stand in the way: each one that alone frees the answer, else all together; and the
 * first lot for sale with which the same question has an answer.
 * @param ask a question with no answer
 * @param lots of its choices, in order
 * @param choiceOf makes a lot a choice of the same question
 */
export function whyNone(
  ask: Ask,
  lots: readonly MaltLot[],
  choiceOf: (lot: MaltLot) => Choice,
): { readonly whyNot: string; readonly wouldDo?: string } {
  const frees = LIMITS.filter((limit) => sharesFor(ask, new Set([limit])).state === 'found');
  const inBags = ask.choices.some((c) => c.stepKg !== undefined);
  const weighed = { ...ask, choices: ask.choices.map(({ stepKg: _, ...rest }): Choice => rest) };
  if (inBags && sharesFor(weighed).state === 'found')
    return {
      whyNot:
        'In whole steps of the bags no grist meets colour and extract; weighed from the scale one does.',
    };
  const said = (frees.length > 0 ? frees : (['colour', 'extract'] as const)).map((limit) =>
    SAID[limit](ask, lots),
  );
  const wouldDo = FOR_SALE.find(({ lot }) => {
    const { stepKg: _, ...bought } = choiceOf({ ...lot, kg: 0 });
    return sharesFor({ ...weighed, choices: [...weighed.choices, bought] }).state === 'found';
  });
  return {
    whyNot: `No grist of these lots matches: ${said.join('; or ')}.`,
    ...(wouldDo ? { wouldDo: `With ${wouldDo.text} in store it would.` } : {}),
  };
}

const ebcOfUnits = (units: number) => ebcFromSrm(srmFromColourUnits(units));

/** "the darkest they give is 9.1 EBC, and 9.8 is wanted" */
function colourSaid(ask: Ask): string {
  const wanted = `${ebcOfUnits(ask.units.low).toFixed(1)} to ${ebcOfUnits(ask.units.high).toFixed(1)} EBC is wanted`;
  for (const which of ['darkest', 'palest'] as const) {
    const shares = extremeShares(ask, which);
    if (shares.state !== 'found') continue;
    const units = unitsOf(ask, shares.kg);
    if (which === 'darkest' ? units < ask.units.low : units > ask.units.high)
      return `the ${which} they give is ${ebcOfUnits(units).toFixed(1)} EBC, and ${wanted}`;
  }
  return `their colours do not meet: ${wanted}`;
}

function unitsOf(ask: Ask, kg: readonly number[]): number {
  const extractKg = ask.choices.reduce((sum, c, i) => sum + c.extractKgKg * (kg[i] as number), 0);
  const malts = ask.choices.map((c, i) => ({ kg: kg[i] as number, lovibond: c.lovibond }));
  return maltColourUnits(malts, ask.litresPerKg * extractKg);
}

/** The lots of which too little is in store, with what there is. */
function storeSaid(ask: Ask, lots: readonly MaltLot[]): string {
  const free = sharesFor(ask, new Set<Limit>(['store']));
  if (free.state !== 'found') return 'too little is in store';
  const short = lots.flatMap((m, i) => {
    const most = ask.choices[i]?.mostKg ?? Infinity;
    const kg = free.kg[i] as number;
    return kg > most
      ? [`${m.name} has ${most.toFixed(1)} kg in store, ${kg.toFixed(1)} kg is wanted`]
      : [];
  });
  return short.join(' and ');
}
