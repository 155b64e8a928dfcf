/** What the kit cannot do as the plan asks, in plain words. */
import type { Problem, Trace } from '@ladlework/brewhouse';
import type { BrewDay } from './day.ts';
import type { Clash } from './plan.ts';
import type { SizedMash, SizedRaise } from './stages.ts';

/** Strike liquor closer to the boil than this is refused [K]. */
const STRIKE_BELOW_BOIL_K = 0.5;
/** Sizing never pulls more than nine tenths; near it the mash, not the pot, is the limit. */
const MOST_OF_MASH = 0.85;

/**
 * The clashes of a sized plan.
 * @param day the day
 * @param sized the sized mash
 * @param trace its simulation on the likely kit
 * @returns none when the kit can do it
 */
export function clashesOf(day: BrewDay, sized: SizedMash, trace: Trace): Clash[] {
  const clashes: Clash[] = [];
  const { strike } = sized;
  if (strike.tempC > day.boilC - STRIKE_BELOW_BOIL_K)
    clashes.push({
      code: 'strike-too-hot',
      text: `The first rest would need strike liquor at ${strike.tempC.toFixed(1)} °C; liquor boils at ${day.boilC.toFixed(1)} °C here. Warm the tun first, use more liquor, or start lower.`,
      wanted: strike.tempC,
      possible: day.boilC,
      unit: '°C',
    });
  const needsHeat = (day.document.day.kettleC ?? day.document.day.liquorC) < strike.tempC;
  if (needsHeat && !day.liquorBurner)
    clashes.push({
      code: 'no-liquor-heat',
      text: `${day.liquorVessel.name} has no burner to heat the strike liquor.`,
      vessel: day.liquorVessel.id,
    });
  for (const raise of sized.raises) if (!raise.reached) clashes.push(notReached(day, raise));
  for (const problem of trace.problems) {
    const clash = ofProblem(day, problem);
    if (clash && !clashes.some((c) => c.code === clash.code && c.vessel === clash.vessel))
      clashes.push(clash);
  }
  return clashes;
}

function notReached(day: BrewDay, raise: SizedRaise): Clash {
  const to = raise.targetC.toFixed(1);
  if (raise.pull) {
    const { landingC, mostL, mashL, loads } = raise.pull;
    const roomL = loads.reduce((s, l) => s + l.capacityL, 0);
    const names = [...new Set(loads.map((l) => l.pot.name))].join(' and ');
    // What still stands in a pot takes its room; only a pull of most of the mash is short of mash.
    const potBound = mostL < MOST_OF_MASH * mashL;
    const kept = potBound && mostL < roomL - 1 ? ' beside what it still holds' : '';
    const why = potBound
      ? `${names} takes ${mostL.toFixed(0)} L of a boiling pull${kept} with freeboard for the foam, ${((100 * mostL) / mashL).toFixed(0)} % of the mash`
      : `even nine tenths of the mash, ${mostL.toFixed(0)} L, boiled and returned`;
    return {
      code: 'rest-not-reached',
      text: `Rest ${raise.index + 2} at ${to} °C cannot be reached: ${why}, and lands at about ${landingC.toFixed(1)} °C.`,
      wanted: raise.targetC,
      possible: landingC,
      unit: '°C',
      ...(loads[0] ? { vessel: loads[0].pot.id } : {}),
    };
  }
  if (raise.raise.by === 'direct-heat')
    return {
      code: 'no-direct-heat',
      text: `No burner heats ${day.restTun.name}, so rest ${raise.index + 2} cannot be reached by direct heat.`,
      vessel: day.restTun.id,
    };
  return {
    code: 'rest-not-reached',
    text: `No amount of this liquor brings the mash to ${to} °C for rest ${raise.index + 2}.`,
    wanted: raise.targetC,
    unit: '°C',
  };
}

function ofProblem(day: BrewDay, p: Problem): Clash | undefined {
  const name = day.kit.vessels.find((v) => v.id === p.vessel)?.name ?? p.vessel;
  const base = { vessel: p.vessel, wanted: p.wanted, possible: p.possible, unit: p.unit };
  switch (p.code) {
    case 'overfull':
      return {
        ...base,
        code: 'overfull',
        text: `${name} would hold ${p.wanted.toFixed(0)} L and has ${p.possible.toFixed(0)} L to the brim.`,
      };
    case 'headspace':
      return {
        ...base,
        code: 'headspace',
        text: `${name} would boil with ${(100 * p.possible).toFixed(0)} % freeboard; under 10 % it goes over.`,
      };
    case 'not-enough':
      return {
        ...base,
        code: 'not-enough',
        text: `${p.wanted.toFixed(0)} L are wanted from ${name}; ${p.possible.toFixed(0)} L come out.`,
      };
    case 'never-hot':
      return {
        ...base,
        code: 'never-hot',
        text: `The burner under ${name} brings it to ${p.possible.toFixed(0)} °C, not to ${p.wanted.toFixed(0)} °C.`,
      };
    case 'cannot-hold-boil':
      return {
        ...base,
        code: 'cannot-hold-boil',
        text: `The burner under ${name} cannot hold the boil.`,
      };
    case 'empty':
      return { ...base, code: 'empty', text: `Nothing stands in ${name} to be heated.` };
    // A landing short of its target is told with its rest, by notReached.
    case 'missed-target':
      return undefined;
  }
}
