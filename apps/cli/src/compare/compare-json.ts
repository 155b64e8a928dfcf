/** The ways as JSON, for other programs; docs/cli.md lists the names. Bands are {low, likely, high}. */
import type {
  Differences,
  Figures,
  KilnedGrist,
  Menu,
  MenuPlan,
  Proof,
  Way,
} from '@ladlework/planner';
import { wortJson } from '../plan/plan-json.ts';

export function compareJson(ways: readonly Way[], menu: Menu, proof: Proof | undefined) {
  return {
    ways: ways.map(wayJson),
    menu: menu.plans.map(menuPlanJson),
    menu_search: { screened: menu.screened, infeasible: menu.infeasible, played: menu.played },
    ...(proof ? { proof: proofJson(proof) } : {}),
  };
}

function menuPlanJson(plan: MenuPlan) {
  return {
    what: plan.what,
    reason: plan.reason,
    ...figuresJson(plan.figures),
    lifts: plan.lifts,
    heaviest_kg: plan.heaviestKg,
    miss_chance: plan.missChance,
    landings: plan.landings.map((l) => ({
      rest: l.rest,
      target_C: l.targetC,
      landing_C: l.landingC,
      miss_chance: l.missChance,
    })),
    starch_risk: plan.starchRisk,
    chances: plan.chances,
    wort: wortJson(plan.wort),
    mash: plan.document.mash,
  };
}

/** Why the plan in the file cannot be done: sets of clashing limits, and what frees each. */
function proofJson(proof: Proof) {
  return proof.sets.map((set) => ({
    text: set.text,
    limits: set.limits.map(({ code, text, change }) => ({
      code,
      text,
      ...(change
        ? { change: { text: change.text, amount: change.amount, unit: change.unit } }
        : {}),
    })),
  }));
}

function wayJson(way: Way) {
  return {
    method: way.method,
    feasible: way.feasible,
    why_not: way.whyNot,
    ...(way.figures ? figuresJson(way.figures) : {}),
    ...(way.wort ? { wort: wortJson(way.wort) } : {}),
    ...(way.against ? { against_own: differencesJson(way.against) } : {}),
    ...(way.kilned ? { kilned: kilnedJson(way.kilned) } : {}),
    ...(way.document ? { mash: way.document.mash } : {}),
  };
}

function figuresJson(figures: Figures) {
  return {
    finish_h: figures.finishH,
    hands_busy_min: figures.handsBusyMin,
    carried_kg: figures.carriedKg,
    energy_kWh: figures.energyKWh,
    cost: figures.cost,
  };
}

function differencesJson(against: Differences) {
  return {
    ...figuresJson(against),
    extract_kg: against.extractKg,
    limit_apparent_points: against.limitApparentPoints,
    colour_added_ebc: against.colourAddedEbc,
    smm_left_points: against.smmLeftPoints,
  };
}

export function kilnedJson(kilned: KilnedGrist) {
  return {
    malts: kilned.malts.map((m) => ({
      name: m.name,
      ...(m.lot === undefined ? {} : { lot: m.lot }),
      kg: m.kg,
      was_kg: m.wasKg,
      share: m.share,
      most_share: m.mostShare,
      ...(m.bags === undefined ? {} : { bags: m.bags }),
      ...(m.cost === undefined ? {} : { cost: m.cost }),
    })),
    extract_kg: kilned.extractKg,
    colour_ebc: kilned.colourEbc,
    diastatic_WK: kilned.diastaticWk,
    mash_ph: kilned.ph,
    ...(kilned.cost === undefined ? {} : { cost: kilned.cost }),
    text: kilned.text,
    notes: kilned.notes,
  };
}
