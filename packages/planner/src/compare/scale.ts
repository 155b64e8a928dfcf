/** From pilot to house kit and back: same rests, same boils, same wort; and what does not come along. */
import {
  type HopAddition,
  hopResult,
  hopsForBitterness,
  type Kit,
  NOMINAL,
} from '@ladlework/brewhouse';
import { inRange } from '@ladlework/matter';
import { vesselOf } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { planDay } from '../plan-day.ts';
import { type BagEffect, type BagSteps, inBags } from './bags.ts';
import { hopsNotKept, hopWortOf, type NotKept, notKept } from './not-kept.ts';
import { ontoKit } from './onto-kit.ts';
import { playWay } from './outcome.ts';
import { pricesOf } from './prices.ts';

export interface ScaleOptions {
  /** Kilograms of malt on the other kit, 0.1-10 000; or malt there against here, 0.001-1000. */
  readonly gristKg?: number;
  readonly factor?: number;
  /** Default half bags. */
  readonly bags?: BagSteps;
  /** Hops of the brew on its own kit. */
  readonly hops?: readonly HopAddition[];
  /** Hop utilisation of each kit against the formula, 0.2-3; 1 until measured. */
  readonly hopFactor?: { readonly from: number; readonly to: number };
  /** Draws behind the bands of what is not kept, 50-5000; default 50. */
  readonly draws?: number;
  readonly seed?: number;
}

export interface Scaled {
  readonly ok: true;
  /** The brew on the other kit, to be planned as it stands. */
  readonly document: PlanDocument;
  /** Malt there against here, before bags. */
  readonly factor: number;
  readonly feasible: boolean;
  /** In plain words; empty when feasible. */
  readonly whyNot: string;
  readonly grist: readonly {
    readonly name: string;
    readonly fromKg: number;
    readonly exactKg: number;
    readonly kg: number;
    readonly bags?: number;
  }[];
  readonly effect: BagEffect;
  /** Grams that give the same bitterness [mg/L] on the other kit. */
  readonly hops?: readonly {
    readonly name: string;
    readonly fromG: number;
    readonly toG: number;
  }[];
  readonly ibu?: number;
  /** Likely wort on both kits; left out where one cannot brew it. */
  readonly wort?: {
    readonly extractKgKg: { readonly from: number; readonly to: number };
    readonly limitApparentPct: { readonly from: number; readonly to: number };
  };
  readonly kept: readonly string[];
  readonly notKept: readonly NotKept[];
  readonly notes: readonly string[];
}

export type Scaling = Scaled | { readonly ok: false; readonly whyNot: string };

/** A factor left to us shrinks by this until the other kit can brew it, so many times. */
const SHRINK = 0.95;
const MOST_SHRINKS = 24;

/**
 * The brew on another kit.
 * @param document the brew on its own kit
 * @param kit the other
 * @param options how much; left out: as large as its tun and kettle against the own, and smaller until
 *   the kit can brew it
 * @returns document, grist in bags with the effect, hops, what is kept and what is not with figures on
 *   both kits; or what the kit lacks
 * @throws UnknownName when the document names what its own kit does not have; OutOfRange outside the ranges
 */
export function scaleTo(document: PlanDocument, kit: Kit, options: ScaleOptions = {}): Scaling {
  const ownKg = document.beer.malts.reduce((sum, m) => sum + m.kg, 0);
  const asked =
    options.gristKg === undefined
      ? options.factor
      : inRange('grist on the other kit', options.gristKg, 0.1, 10_000, 'kg') / ownKg;
  let factor = inRange('factor', asked ?? largest(document, kit), 0.001, 1000, '');
  let onto = ontoKit(document, kit, factor);
  if (!onto.ok) return onto;
  const brewed = (d: PlanDocument) => playWay({ document: d, finish: [] }, [NOMINAL], pricesOf(d));
  const rounded = (d: PlanDocument) => inBags(d, options.bags ?? 'half-bags');
  const withMalts = (d: PlanDocument): PlanDocument => ({
    ...d,
    beer: { ...d.beer, malts: rounded(d).malts },
  });
  let played = brewed(withMalts(onto.document));
  for (let n = 0; asked === undefined && !played.wort && n < MOST_SHRINKS; n++) {
    factor *= SHRINK;
    const next = ontoKit(document, kit, factor);
    if (!next.ok) break;
    onto = next;
    played = brewed(withMalts(onto.document));
  }
  const exact = onto.document;
  const { malts, effect } = rounded(exact);
  const there = withMalts(exact);
  const own = brewed(document);
  const doubt = {
    draws: options.draws ?? 50,
    seed: options.seed ?? 1,
    mash: 'off',
    changes: false,
  } as const;
  const from = { document, plan: planDay(document, doubt) };
  const to = { document: there, plan: planDay(there, doubt) };
  const hops = options.hops && hopsThere(document, there, options.hops, options.hopFactor);
  const wort = own.worts[0] && played.worts[0] && { own: own.worts[0], there: played.worts[0] };
  const thereKg = malts.reduce((sum, m) => sum + m.kg, 0);
  return {
    ok: true,
    document: there,
    factor,
    feasible: played.wort !== undefined,
    whyNot: played.clashes.map((c) => c.text).join(' '),
    grist: malts.map((m, i) => ({
      name: m.name,
      fromKg: document.beer.malts[i]?.kg as number,
      exactKg: exact.beer.malts[i]?.kg as number,
      kg: m.kg,
      ...(m.bagKg === undefined ? {} : { bags: m.kg / m.bagKg }),
    })),
    effect,
    ...(hops ? { hops: hops.grams, ibu: hops.ibu } : {}),
    ...(wort
      ? {
          wort: {
            extractKgKg: { from: wort.own.extractKg / ownKg, to: wort.there.extractKg / thereKg },
            limitApparentPct: { from: wort.own.limitApparentPct, to: wort.there.limitApparentPct },
          },
        }
      : {}),
    kept: keptOf(document),
    notKept: [...notKept(from, to), ...(hops?.notKept ?? [])],
    notes: [
      ...onto.moved,
      'Hands, events, rates and breaks are those of the house; enter them for its day.',
      ...(options.hops && options.hopFactor === undefined
        ? [
            'Neither kit has a hop factor of its own: larger kits are said to use hops 15-25 % better; measure it.',
          ]
        : []),
    ],
  };
}

/** The other kit's tun and kettle against the own, the smaller of both. */
function largest(document: PlanDocument, kit: Kit): number {
  const at = ontoKit(document, kit, 1);
  if (!at.ok) return 1;
  const ratio = (own: string, there: string) =>
    vesselOf(kit, there).brimL / vesselOf(document.kit, own).brimL;
  const { mash } = document;
  const other = at.document.mash;
  return Math.min(ratio(mash.tun, other.tun), ratio(mash.liquorVessel, other.liquorVessel));
}

function hopsThere(
  document: PlanDocument,
  there: PlanDocument,
  hops: readonly HopAddition[],
  factor = { from: 1, to: 1 },
) {
  const from = hopWortOf(document, factor.from);
  const to = hopWortOf(there, factor.to);
  const { ibu } = hopResult(hops, from);
  const scaled = ibu > 0 ? hopsForBitterness(hops, ibu, to) : hops;
  return {
    ibu,
    grams: hops.map((h, i) => ({ name: h.name, fromG: h.grams, toG: scaled[i]?.grams as number })),
    notKept: hopsNotKept(hops, from, to),
  };
}

function keptOf({ mash }: PlanDocument): string[] {
  const rests = mash.rests.map((r) => `${r.minutes} min at ${r.tempC.toFixed(1)} °C`).join(', ');
  const boils = mash.raises.flatMap((r) => (r.by === 'decoction' ? [`${r.boilMinutes} min`] : []));
  return [
    `Rests: ${rests}.`,
    ...(boils.length > 0
      ? [
          `Boils of the pulls: ${boils.join(', ')}, each as thick and with the same rest on the way.`,
        ]
      : []),
    `Liquor to grist: ${mash.liquorLPerKg.toFixed(2)} L/kg.`,
    'Shares of the malts, but for the bags.',
  ];
}
