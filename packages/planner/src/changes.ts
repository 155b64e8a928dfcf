/**
 * When a rest cannot be reached: the single changes that would free it, the smallest of each kind,
 * each one simulated before it is offered.
 */
import { type Draw, type Kit, type MashEngine, NOMINAL, type Vessel } from '@ladlework/brewhouse';
import { band } from '@ladlework/numerics';
import { type BrewDay, brewDay, burnerFor, type Decoction } from './day.ts';
import type { Mash, PlanDocument, Raise } from './document.ts';
import { stateIn } from './moves-of.ts';
import type { Change } from './plan.ts';
import { sizeStrike } from './size.ts';
import { playMash, type SizedMash, sizeMash } from './stages.ts';

/** Most loads of one pot we offer in turn. */
const MOST_LOADS = 5;
/** Pots tried grow by this, up to so many times the one there is. */
const POT_GROWS = 1.12;
const MOST_GROWN = 5;
/** Pots are sold in steps; sizes are rounded up to this [L]. */
const POT_STEP_L = 5;
/** A landing this close to the target counts as freed [K]. */
const FREED_K = 0.3;

/**
 * Single changes that free the first rest the plan cannot reach.
 * @param day the day
 * @param sized the mash as sized
 * @param draws draws behind the landing bands
 * @param engine mash kinetics, as the plan ran with
 * @returns changes in the order a brewer would rather hear them; empty when none was found
 */
export function changesFor(
  day: BrewDay,
  sized: SizedMash,
  draws: readonly Draw[],
  engine?: MashEngine,
): Change[] {
  const failing = sized.raises.find((r) => !r.reached && r.pull);
  if (!failing?.pull) return [];
  const { index } = failing;
  const raise = failing.raise as Decoction;
  const baseMin = lengthOf(day, sized, engine);
  const offers: Change[] = [];
  const offer = (
    code: Change['code'],
    document: PlanDocument,
    amount: number,
    unit: string,
    text: string,
  ): boolean => {
    const tried = attempt(document, index, draws, engine);
    if (!tried) return false;
    offers.push({
      code,
      text,
      amount,
      unit,
      landingC: tried.landingC,
      addedMin: tried.lengthMin - baseMin,
      document,
    });
    return true;
  };
  const { document } = day;
  const target = failing.targetC.toFixed(1);

  const litres = boilingLiquorNeeded(document, index, raise, engine);
  if (litres !== undefined)
    offer(
      'boiling-liquor',
      withRaise(document, index, { ...raise, boilingLiquorL: litres }),
      litres,
      'L',
      `${litres} L of boiling liquor poured in after the return`,
    );
  const pot = failing.pull.loads[0]?.pot as Vessel;
  for (let loads = raise.pots.length + 1; loads <= MOST_LOADS; loads++) {
    const pots = Array.from(
      { length: loads },
      (_, i) => raise.pots[i % raise.pots.length] as string,
    );
    const more = withRaise(document, index, { ...raise, pots, order: 'in-turn' });
    if (
      offer(
        'another-pull',
        more,
        loads,
        'loads',
        `${loads} pot loads in turn, each boiled and returned`,
      )
    )
      break;
  }
  const twin = secondPot(document, index, raise, pot);
  offer(
    'second-pot',
    twin,
    pot.brimL,
    'L',
    `a second ${pot.brimL.toFixed(0)} L pot on its own burner, boiled beside the first`,
  );
  const bigger = biggerPot(document, pot, index, engine);
  if (bigger !== undefined)
    offer(
      'bigger-pot',
      withVessel(document, { ...pot, ...potOf(pot, bigger) }),
      bigger,
      'L',
      `a ${bigger} L pot`,
    );
  if (burnerFor(day.kit, day.restTun.id))
    offer(
      'direct-heat',
      withRaise(document, index, { by: 'direct-heat' }),
      failing.targetC - (document.mash.rests[index]?.tempC ?? 0),
      'K',
      `heat on ${day.restTun.name} up to ${target} °C in place of this pull`,
    );
  const lower = Math.floor(failing.pull.landingC * 2) / 2;
  const before = document.mash.rests[index]?.tempC ?? 0;
  if (lower > before + 1)
    offer(
      'lower-rest',
      withRest(document, index + 1, lower),
      lower,
      '°C',
      `a rest at ${lower} °C instead of ${target} °C`,
    );
  const thick = 2.6;
  if (document.mash.liquorLPerKg > thick + 0.2)
    offer(
      'thicker-mash',
      { ...document, mash: { ...document.mash, liquorLPerKg: thick } },
      thick,
      'L/kg',
      `a thicker mash, ${thick} L/kg`,
    );
  return offers;
}

/** Sizes the changed plan and keeps it only when the rest is reached and nothing new clashes. */
function attempt(
  document: PlanDocument,
  index: number,
  draws: readonly Draw[],
  engine: MashEngine | undefined,
) {
  const day = brewDay(document);
  const sized = sizeMash(day, sizeStrike(day), engine);
  const raise = sized.raises[index];
  const target = document.mash.rests[index + 1]?.tempC ?? 0;
  const likely = playMash(day, sized, NOMINAL, engine, false);
  const problems = likely.stages
    .flatMap((s) => s.problems)
    .filter((p) => p.code !== 'missed-target');
  if (problems.length > 0 || !raise?.reached) return undefined;
  const landing = (played: ReturnType<typeof playMash>) => {
    const last = played.raises[index]?.guided.moves.filter(
      (m) => m.kind === 'return' || m.kind === 'pour' || m.kind === 'heat',
    );
    const at = last
      ?.filter((m) => m.vessels.at(-1) === day.restTun.id && !m.id.startsWith('kept-'))
      .at(-1);
    return at?.toC ?? stateIn(played.first.end, day.restTun.id).tempC;
  };
  if (Math.abs(landing(likely) - target) > FREED_K) return undefined;
  const landings = draws.map((d) => landing(playMash(day, sized, d, engine, false)));
  return { landingC: band(landings), lengthMin: lengthOf(day, sized, engine) };
}

function lengthOf(day: BrewDay, sized: SizedMash, engine: MashEngine | undefined): number {
  const played = playMash(day, sized, NOMINAL, engine, false);
  return Math.max(...played.stages.flatMap((s) => s.moves.map((m) => m.endMin)));
}

/** Smallest whole litres of boiling liquor that, with the pull, reach the rest. */
function boilingLiquorNeeded(
  document: PlanDocument,
  index: number,
  raise: Decoction,
  engine: MashEngine | undefined,
): number | undefined {
  const reaches = (litres: number) =>
    attempt(
      withRaise(document, index, { ...raise, boilingLiquorL: litres }),
      index,
      [NOMINAL],
      engine,
    ) !== undefined;
  let high = 1;
  const limit = brewDay(document).restTun.brimL;
  while (!reaches(high)) {
    high *= 2;
    if (high > limit) return undefined;
  }
  let low = Math.floor(high / 2);
  while (high - low > 1) {
    const mid = Math.floor((low + high) / 2);
    if (reaches(mid)) high = mid;
    else low = mid;
  }
  return high;
}

/** Smallest pot, in shop steps, with which the rest is reached on the burner there is. */
function biggerPot(
  document: PlanDocument,
  pot: Vessel,
  index: number,
  engine: MashEngine | undefined,
): number | undefined {
  for (let wanted = pot.brimL * POT_GROWS; wanted <= pot.brimL * MOST_GROWN; wanted *= POT_GROWS) {
    const brimL = Math.ceil(wanted / POT_STEP_L) * POT_STEP_L;
    const bigger = withVessel(document, { ...pot, ...potOf(pot, brimL) });
    if (attempt(bigger, index, [NOMINAL], engine)) return brimL;
  }
  return undefined;
}

/** A pot of the same shape and make at another volume. */
export function potOf(pot: Vessel, brimL: number): Partial<Vessel> {
  const scale = (brimL / pot.brimL) ** (1 / 3);
  return {
    brimL,
    diameterM: pot.diameterM * scale,
    wallKJK: pot.wallKJK * scale ** 2,
    lossWK: pot.lossWK * scale ** 2,
    name: `${brimL} L pot`,
  };
}

function secondPot(
  document: PlanDocument,
  index: number,
  raise: Decoction,
  pot: Vessel,
): PlanDocument {
  const { kit, id } = withTwin(document.kit, pot);
  const pots = [...raise.pots, id];
  return withRaise({ ...document, kit }, index, { ...raise, pots, order: 'side-by-side' });
}

/** A second pot of the same make, on a burner of its own where the first has one. */
export function withTwin(kit: Kit, pot: Vessel): { readonly kit: Kit; readonly id: string } {
  const id = `${pot.id}-2`;
  const burner = burnerFor(kit, pot.id);
  const burners = burner
    ? [...kit.burners, { ...burner, id: `${burner.id}-2`, heats: [id] }]
    : kit.burners;
  const vessels = [...kit.vessels, { ...pot, id, name: `second ${pot.name}` }];
  return { id, kit: { ...kit, vessels, burners } };
}

export function withRaise(document: PlanDocument, index: number, raise: Raise): PlanDocument {
  const raises = document.mash.raises.map((r, i) => (i === index ? raise : r));
  return { ...document, mash: { ...document.mash, raises } };
}

export function withRest(document: PlanDocument, index: number, tempC: number): PlanDocument {
  const rests = document.mash.rests.map((r, i) => (i === index ? { ...r, tempC } : r));
  const mash: Mash = { ...document.mash, rests };
  return { ...document, mash };
}

export function withVessel(document: PlanDocument, vessel: Vessel): PlanDocument {
  const vessels = document.kit.vessels.map((v) => (v.id === vessel.id ? vessel : v));
  return { ...document, kit: { ...document.kit, vessels } };
}
