/**
 * Which missing figure of a certificate would narrow the predicted wort most. Each is tried on the
 * likely day: the wort with the figure one spread off, once spread as an unknown figure, once as a
 * known one. What that takes off the variance is what the figure is worth.
 */
import {
  type Draw,
  drawMalt,
  drawMashParameters,
  GristEngine,
  MASH_DRAW_DIMS,
  type MaltSpread,
  MashWorkspace,
  maltFromCertificate,
  NOMINAL,
  type Trace,
} from '@ladlework/brewhouse';
import { normalQuantile } from '@ladlework/numerics';
import { type BrewDay, brewDay } from './day.ts';
import type { MaltCertificate, PlanDocument } from './document.ts';
import { kineticCertificate, knownMalt, parametersOf } from './grist.ts';
import type { Band, WortForecast } from './plan.ts';
import { openingSituation, runMoves, sizeStrike } from './size.ts';
import { sizeMash } from './stages.ts';
import { type Wort, wortForecast } from './wort.ts';

/** A certificate field the kinetics use, where its normal stands in a draw, and a value that states it. */
interface Field {
  readonly field: keyof MaltCertificate;
  readonly name: string;
  readonly normal: number;
  readonly spread: keyof MaltSpread;
  readonly stated: MaltCertificate;
}

/** Malt normals are the last five of a draw: starch, preformed, alpha, beta, limit dextrinase. */
const MALT_NORMALS_AT = MASH_DRAW_DIMS - 5;
const FIELDS: readonly Field[] = [
  {
    field: 'extractFinePct',
    name: 'extract, fine grind',
    normal: 0,
    spread: 'starchSd',
    stated: { extractFinePct: 81.9 },
  },
  {
    field: 'alphaDu',
    name: 'alpha-amylase',
    normal: 2,
    spread: 'alphaLnSd',
    stated: { alphaDu: 50 },
  },
  {
    field: 'diastaticWk',
    name: 'diastatic power',
    normal: 3,
    spread: 'betaLnSd',
    stated: { diastaticWk: 300 },
  },
];

export interface FieldWorth {
  readonly field: keyof MaltCertificate;
  readonly lots: readonly string[];
  /** How much narrower the band would be, 0-1: extract, and limit of attenuation. */
  readonly extractNarrowing: number;
  readonly limitNarrowing: number;
  readonly text: string;
}

/**
 * Worth of the missing certificate figures of a beer, best first.
 * @param document the plan document
 * @param wort its predicted wort, for the bands to narrow
 * @returns nothing where every base malt states them all
 * @source first-order variance share: 1 - sqrt(1 - (unknown² - known²)/total²)
 */
export function certificateWorth(document: PlanDocument, wort: WortForecast): FieldWorth[] {
  const day = brewDay(document);
  const lots = document.beer.malts.filter((m) => m.type === 'base' || m.type === 'wheat');
  const missingIn = (f: Field) => lots.filter((lot) => lot.certificate?.[f.field] === undefined);
  const fields = FIELDS.filter((f) => missingIn(f).length > 0);
  if (fields.length === 0) return [];
  const play = player(day);
  const likely = play(undefined, 0);
  return fields
    .map((f) => {
      const unknown = maltFromCertificate({}).spread[f.spread];
      const known = maltFromCertificate(kineticCertificate(f.stated)).spread[f.spread];
      const off = play(f, 1);
      const share = 1 - (known / unknown) ** 2;
      const worth = (pick: (w: Wort) => number, band: Band) => {
        const takes = (pick(off) - pick(likely)) ** 2 * share;
        return 1 - Math.sqrt(Math.max(0, 1 - takes / Math.max(takes, variance(band))));
      };
      const extractNarrowing = worth((w) => w.extractKg, wort.extractKg);
      const limitNarrowing = worth((w) => w.limitApparentPct, wort.limitApparentPct);
      const names = missingIn(f).map((lot) => lot.name);
      return {
        field: f.field,
        lots: names,
        extractNarrowing,
        limitNarrowing,
        text: `${f.name} of ${names.join(' and ')}: extract band ${percent(extractNarrowing)} narrower, limit of attenuation ${percent(limitNarrowing)}`,
      };
    })
    .sort((a, b) => b.extractNarrowing + b.limitNarrowing - a.extractNarrowing - a.limitNarrowing);
}

/** Plays the likely day with one malt figure moved by so many of its own spreads. */
function player(day: BrewDay): (field: Field | undefined, sds: number) => Wort {
  const workspace = new MashWorkspace();
  const { beer } = day.document;
  const known = beer.malts.map(knownMalt);
  const base = drawMashParameters(parametersOf(beer), []);
  const engineFor = (field: Field | undefined, sds: number) => {
    const normals = new Float64Array(MASH_DRAW_DIMS);
    if (field) normals[MALT_NORMALS_AT + field.normal] = sds;
    const parts = known.map(({ malt, massKg, spread }, i) => {
      const lacks = field && beer.malts[i]?.certificate?.[field.field] === undefined;
      return {
        massKg,
        malt: malt.kind === 'mashed' && spread && lacks ? drawMalt(malt, spread, normals) : malt,
      };
    });
    return new GristEngine(parts, base, { workspace });
  };
  const draw: Draw = NOMINAL;
  const sized = sizeMash(day, sizeStrike(day), engineFor(undefined, 0), draw);
  return (field, sds) => {
    const engine = engineFor(field, sds);
    const end: Trace = runMoves(day, openingSituation(day), sized.moves, draw, engine, false);
    return wortForecast.sample(day, engine, end)[0] as Wort;
  };
}

function variance(band: Band): number {
  const sd = (band.high - band.low) / (2 * normalQuantile(0.9));
  return sd * sd;
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
