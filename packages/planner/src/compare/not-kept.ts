/** What of a brew does not come along to another kit, with the figure on both. */
import {
  burnerPowerKW,
  type HopAddition,
  type HopWort,
  hopResult,
  kitBoilingPoint,
} from '@ladlework/brewhouse';
import { latentHeat, platoFromGramsPer100mL, sgFromPlato } from '@ladlework/matter';
import { brewDay, burnerFor } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import type { Band, Plan } from '../plan.ts';
import { TYPICAL_WORK, wortLitres } from '../timetable/work.ts';

export interface NotKept {
  readonly what: string;
  readonly from: Band;
  readonly to: Band;
  readonly unit: string;
}

/** Wort while it stands, and on the way to the cooler [°C]; our judgement for an open kettle with lid. */
const STANDS_AT_C = { stand: 95, knockOut: 90 } as const;

const one = (x: number): Band => ({ low: x, likely: x, high: x });

/**
 * The figures that the kit gives and not the recipe.
 * @param from the brew on its own kit, with its plan
 * @param to the brew on the other kit, with its plan
 */
export function notKept(
  from: { readonly document: PlanDocument; readonly plan: Plan },
  to: { readonly document: PlanDocument; readonly plan: Plan },
): NotKept[] {
  const rows: NotKept[] = [];
  const add = (what: string, a: Band | undefined, b: Band | undefined, unit: string) => {
    if (a && b) rows.push({ what, from: a, to: b, unit });
  };
  from.plan.returns.forEach((r, i) => {
    const there = to.plan.returns[i];
    if (!there) return;
    const nth = from.plan.returns.length > 1 ? ` ${r.pull}` : '';
    add(`Pull${nth}`, r.pullL, there.pullL, 'L');
    add(`Pull${nth}, share of the mash`, percent(r.pullShare), percent(there.pullShare), '%');
    add(`Heating pull${nth} to the boil`, heatUp(from.plan, i), heatUp(to.plan, i), 'min');
    add(`Pull${nth} away from the tun`, r.awayMin, there.awayMin, 'min');
    add(`Slip of the tun under pull${nth}`, slip(r), slip(there), 'K');
    add(`Arrival of pull${nth}`, r.arrivalC, there.arrivalC, '°C');
  });
  add('The whole mash', from.plan.mashEndMin, to.plan.mashEndMin, 'min');
  add(
    'Most that can boil off',
    one(boilOff(from.document)),
    one(boilOff(to.document)),
    '% an hour',
  );
  add(
    'Wort boils at',
    one(kitBoilingPoint(from.document.kit)),
    one(kitBoilingPoint(to.document.kit)),
    '°C',
  );
  add('Knocking out', one(knockOutMin(from.document)), one(knockOutMin(to.document)), 'min');
  return rows;
}

const percent = (b: Band): Band => ({
  low: 100 * b.low,
  likely: 100 * b.likely,
  high: 100 * b.high,
});

const slip = ({
  restC,
  tunBeforeC,
}: {
  readonly restC: number;
  readonly tunBeforeC: Band;
}): Band => ({
  low: restC - tunBeforeC.high,
  likely: restC - tunBeforeC.likely,
  high: restC - tunBeforeC.low,
});

/** Likely minutes of heating one pot between the pull and its return; pots side by side count once. */
function heatUp(plan: Plan, index: number): Band | undefined {
  const ids = plan.returns[index]?.moveIds;
  const at = (id: string | undefined) => plan.moves.findIndex((m) => m.move.id === id);
  const between = plan.moves.slice(at(ids?.pull[0]), at(ids?.return[0]));
  const heats = between.flatMap((m) =>
    m.move.kind === 'heat' ? [{ ...m, pot: m.move.vessel }] : [],
  );
  const own = heats.filter((m) => m.pot === heats[0]?.pot);
  if (own.length === 0) return undefined;
  return one(own.reduce((sum, m) => sum + m.endMin.likely - m.startMin.likely, 0));
}

/** Share of kettle-full that the burner can boil away in an hour with all its power [%]. */
function boilOff(document: PlanDocument): number {
  const { kit } = document;
  const kettle = kit.vessels.find((v) => v.role === 'kettle');
  const burner = kettle && burnerFor(kit, kettle.id);
  if (!burner) return 0;
  const kgH = (burnerPowerKW(burner, kit) * 3600) / latentHeat(kitBoilingPoint(kit));
  return (100 * kgH) / litresOf(document).kettleFullL;
}

const workOf = (document: PlanDocument) => ({ ...TYPICAL_WORK, ...document.day.work });

function litresOf(document: PlanDocument) {
  const day = brewDay(document);
  return wortLitres(day.gristKg, day.liquorKg, day.restTun, workOf(document));
}

const knockOutMin = (document: PlanDocument): number =>
  litresOf(document).castOutL / workOf(document).knockOutLPerMin;

/**
 * The wort that hops are reckoned in on a kit: its boiling point, its minutes hot after the boil.
 * @param document the brew on that kit
 * @param factor of the kit's hop utilisation, 1 until it was measured, 0.2-3
 */
export function hopWortOf(document: PlanDocument, factor: number): HopWort {
  const { castOutL, extractKg } = litresOf(document);
  return {
    sg: sgFromPlato(platoFromGramsPer100mL((100 * extractKg) / castOutL)),
    boilC: kitBoilingPoint(document.kit),
    stand: [
      { tC: STANDS_AT_C.stand, minutes: workOf(document).standMin },
      // The last of the wort waits for all before it: half the time on the mean.
      { tC: STANDS_AT_C.knockOut, minutes: knockOutMin(document) / 2 },
    ],
    coldL: castOutL,
    factor: { kettle: factor, stand: factor },
  };
}

/** Bitterness that the same grams a hectolitre would give on both kits, addition by addition [mg/L]. */
export function hopsNotKept(hops: readonly HopAddition[], from: HopWort, to: HopWort): NotKept[] {
  const here = hopResult(hops, from).additions;
  const perL = hops.map((h) => ({ ...h, grams: (h.grams * to.coldL) / from.coldL }));
  const there = hopResult(perL, to).additions;
  return here.map((h, i) => ({
    what: `${h.name}, the same grams a litre`,
    from: one(h.ibu),
    to: one(there[i]?.ibu as number),
    unit: 'mg/L',
  }));
}
