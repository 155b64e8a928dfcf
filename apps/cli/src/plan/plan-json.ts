/**
 * The plan as JSON, for other programs. Names carry their units; docs/cli.md lists them, and they do
 * not change within a major version. Minutes count from the start of the day.
 */

import { type PullWay, pullWayText } from '@ladlework/brewhouse';
import { summaryOf } from '@ladlework/contract';
import type { Plan, PlanDocument } from '@ladlework/planner';
import { formatClock } from '@ladlework/quantity';
import { jsonNames } from './json-names.ts';

export function planJson(document: PlanDocument, plan: Plan) {
  const { startMin } = document.day;
  const clock = (minute: number) => formatClock(startMin + minute);
  const ways = new Map(plan.moves.map((m) => [m.move.id, m.way]));
  return {
    feasible: plan.feasible,
    clashes: plan.clashes,
    changes: plan.changes.map((c) => ({
      code: c.code,
      text: c.text,
      amount: c.amount,
      unit: c.unit,
      landing_C: c.landingC,
      added_minutes: c.addedMin,
    })),
    added_minutes: plan.addedMin.likely,
    added_minutes_band: plan.addedMin,
    mash_end_min: plan.mashEndMin,
    strike: {
      litres: plan.strike.litres,
      temp_C: plan.strike.tempC,
      mash_L: plan.strike.mashL,
    },
    moves: summaryOf(plan).moves.map((m) => ({
      id: m.id,
      kind: m.kind,
      text: m.text,
      start: m.startMin.likely,
      end: m.endMin.likely,
      vessel: m.vessel,
      hands: m.hands,
      clock: { start: clock(m.startMin.likely), end: clock(m.endMin.likely) },
      start_min: m.startMin,
      end_min: m.endMin,
      from_C: m.fromC,
      to_C: m.toC,
      volume_L: m.volumeL,
      ...(m.litres === undefined ? {} : { litres: m.litres }),
      ...wayJson(ways.get(m.id)),
    })),
    returns: plan.returns.map((r) => ({
      pull: r.pull,
      rest_C: r.restC,
      target_C: r.targetC,
      pull_L: r.pullL,
      pull_kg: r.pullKg,
      pull_share: r.pullShare,
      reserve_L: r.reserveL,
      take_L: r.takeL,
      portions: r.portions,
      pot_loads: r.potLoads,
      tun_before_C: r.tunBeforeC,
      arrival_C: r.arrivalC,
      landing_C: r.landingC,
      guided_landing_C: r.guidedLandingC,
      away_min: r.awayMin,
      textbook_C: r.textbookC,
      move_ids: r.moveIds,
    })),
    run_off: {
      from_C: plan.runOff.fromC,
      to_C: plan.runOff.toC,
      wort_plato: plan.runOff.wortPlato,
      viscosity_from_mPas: plan.runOff.viscosityFromMPas,
      viscosity_to_mPas: plan.runOff.viscosityToMPas,
      flow_factor: plan.runOff.flowFactor,
    },
    energy: {
      burnt_kWh: plan.energy.burntKWh,
      heat_kWh: plan.energy.heatKWh,
      vapour_kWh: plan.energy.vapourKWh,
      lost_kWh: plan.energy.lostKWh,
      evaporated_kg: plan.energy.evaporatedKg,
      boiled_off_kg: plan.energy.boiledOffKg,
    },
    cautions: plan.cautions.map((c) => ({ move: c.moveId, code: c.code, text: c.text })),
    iodine: plan.iodine.map((i) => ({
      rest: i.rest,
      at_min: i.atMin,
      clock: clock(i.atMin),
      positive_chance: i.positiveChance,
      ...(i.ifBlue === undefined ? {} : { if_blue: i.ifBlue }),
    })),
    ...(plan.wort === undefined ? {} : { wort: wortJson(plan.wort) }),
    ...(plan.wortPlan === undefined ? {} : { wort_plan: jsonNames(plan.wortPlan) }),
  };
}

/** How a pull is taken; the text in house units. */
function wayJson(way: PullWay | undefined) {
  if (way === undefined) return {};
  return {
    way: {
      by: way.by,
      text: pullWayText(way),
      settle_min: way.settleMin,
      mash_L_per_kg: way.mashLPerKg,
      pull_L_per_kg: way.pullLPerKg,
      litres: way.litres,
      bulk_L: way.bulkL,
      ...(way.topUpL === undefined ? {} : { top_up_L: way.topUpL }),
      ...(way.drainL === undefined ? {} : { drain_L: way.drainL }),
    },
  };
}

export function wortJson(wort: NonNullable<Plan['wort']>) {
  return {
    extract_kg: wort.extractKg,
    wort_plato: wort.wortPlato,
    fermentable_share: wort.fermentableShare,
    limit_apparent_pct: wort.limitApparentPct,
    limit_apparent_narrow_pct: wort.limitApparentNarrowPct,
    limit_real_pct: wort.limitRealPct,
    alpha_left: wort.alphaLeft,
    beta_left: wort.betaLeft,
    starch_left_share: wort.starchLeftShare,
    colour_added_ebc: wort.colourAddedEbc,
    smm_left_share: wort.smmLeftShare,
    smm_removed_share: wort.smmRemovedShare,
    outside: wort.outside,
  };
}
