/**
 * What a ruler chart is drawn from: the litres a return takes, as a function of what the brewer
 * reads in the tun and in the pot. It is the return of the running day with both readings put in.
 */
import { type Move, NOMINAL, type Route, thermalOf, volumeOf } from '@ladlework/brewhouse';
import { type BrewDay, brewDay, vesselOf } from './day.ts';
import type { PlanDocument } from './document.ts';
import { mashEngines } from './grist.ts';
import { litresTo, portionsOf } from './live-portions.ts';
import { type PullGroup, pullGroups } from './live-returns.ts';
import {
  isTransfer,
  type Particle,
  Stepper,
  type TransferMove,
  vesselIn,
  withoutStop,
} from './live-step.ts';
import { openingSituation, runMoves } from './size.ts';

/** What a return takes from two readings. */
export interface ReturnNeed {
  /** To the target, as measured in the pot; all there is when that does not reach it [L]. */
  readonly litres: number;
  /** Heat-weighted mean of those litres as they land [°C]. */
  readonly arrivalC: number;
  /** Is there enough in the pot? */
  readonly reached: boolean;
}

/** One return of a plan, on the likely kit. */
export interface ReturnRuler {
  /** As the planned return, from 1. */
  readonly pull: number;
  readonly targetC: number;
  /** Vessel the mash rests in, and those the pull comes back from. */
  readonly tun: string;
  readonly pots: readonly string[];
  readonly route: Route;
  /** Mash or liquor? */
  readonly carries: 'mash' | 'liquor';
  /** In the tun before the return, and in the pots [L]. */
  readonly tunL: number;
  readonly haveL: number;
  readonly boilC: number;
  /** What the plan expects to be read just before the return. */
  readonly planned: ReturnNeed & { readonly tunC: number; readonly potC: number };
  /**
   * Litres that bring the tun to the target.
   * @param tunC what the tun reads just before the return [°C], above 0 and not above the target
   * @param potC what the pot reads then [°C], above the target and not above the boil
   * @param tunShare content of the tun against the planned, 0.5-2; default 1
   * @throws RangeError when a reading is outside its range
   */
  readonly need: (tunC: number, potC: number, tunShare?: number) => ReturnNeed;
}

/**
 * The returns of a plan that are stopped at a target, in order.
 * @param document kit, beer, mash and day
 * @param moves the plan's moves
 * @returns one ruler a return; none for a plan without pulls
 * @throws UnknownName when the document names what its kit does not have
 */
export function returnRulers(document: PlanDocument, moves: readonly Move[]): ReturnRuler[] {
  const day = brewDay(document);
  const engine = mashEngines(document.beer)(NOMINAL);
  const stepper = new Stepper(day);
  return pullGroups(day, moves, engine).map((group) => {
    const landing = moves.filter(
      (m): m is TransferMove => isTransfer(m) && group.landing.has(m.id),
    );
    const before = moves.slice(0, moves.indexOf(landing[0] as Move));
    const trace = runMoves(day, openingSituation(day), before, NOMINAL, engine, false);
    const start = { draw: NOMINAL, situation: trace.end, movedL: {} };
    return rulerOf(day, stepper, group, landing, together(stepper, start, landing));
  });
}

/** The vessels of some moves brought to the same minute, the latest of theirs. */
function together(stepper: Stepper, particle: Particle, moves: readonly TransferMove[]): Particle {
  const ids = [...new Set(moves.flatMap((m) => [m.from, m.to]))];
  const at = Math.max(...ids.map((id) => vesselIn(particle, id).clockMin));
  return ids.reduce((p, id) => stepper.pass(p, id, at), particle);
}

function rulerOf(
  day: BrewDay,
  stepper: Stepper,
  group: PullGroup,
  landing: readonly TransferMove[],
  start: Particle,
): ReturnRuler {
  const tun = group.final.to;
  const pots = [...new Set(landing.map((m) => m.from))];
  const route = stepper.routeOf(group.final);
  const { targetC } = group;
  const free = landing.map((m) => ({ ...m, hands: [], earliestMin: 0 }));
  const unread = free.map(withoutStop);
  const need: ReturnRuler['need'] = (tunC, potC, tunShare = 1) => {
    inRange('tunC', tunC, 0, targetC);
    inRange('potC', potC, targetC, day.boilC + BOIL_RISE_K);
    inRange('tunShare', tunShare, 0.5, 2);
    const read = readings(start, tun, pots, tunC, potC, tunShare);
    const all = transfersOf(stepper, read, unread);
    const steps = portionsOf(tunC, all, route.portionL);
    const stopped = transfersOf(stepper, read, free);
    const kg = stopped.reduce((sum, t) => sum + t.kg, 0);
    const warm = stopped.reduce((sum, t) => sum + t.kg * t.arrivalC, 0);
    return {
      litres: litresTo(steps, targetC),
      arrivalC: kg > 0 ? warm / kg : potC,
      reached: (steps.tempC.at(-1) as number) >= targetC,
    };
  };
  const litresIn = (id: string) =>
    volumeOf(
      vesselIn(start, id),
      thermalOf(vesselOf(day.kit, id), NOMINAL, day.airC, day.moisture),
    );
  const tunC = Math.min(targetC, vesselIn(start, tun).tempC);
  const potC = Math.max(targetC, ...pots.map((id) => vesselIn(start, id).tempC));
  return {
    pull: group.pull,
    targetC,
    tun,
    pots,
    route,
    carries: group.final.kind === 'pour' ? 'liquor' : 'mash',
    tunL: litresIn(tun),
    haveL: pots.reduce((sum, id) => sum + litresIn(id), 0),
    boilC: day.boilC,
    planned: { tunC, potC, ...need(tunC, potC) },
    need,
  };
}

/** A thick pull boils this much above water at most; what it read is taken as it stands [K]. */
const BOIL_RISE_K = 2;

function inRange(name: string, value: number, low: number, high: number): void {
  if (value >= low && value <= high) return;
  throw new RangeError(`${name} is ${value}; give ${low.toFixed(1)} to ${high.toFixed(1)}`);
}

function transfersOf(stepper: Stepper, particle: Particle, moves: readonly Move[]) {
  return stepper.simulate(particle, moves).moves.flatMap((m) => (m.transfer ? [m.transfer] : []));
}

/** The particle with what was read in its vessels, and more or less in the tun. */
function readings(
  particle: Particle,
  tun: string,
  pots: readonly string[],
  tunC: number,
  potC: number,
  tunShare: number,
): Particle {
  const vessels = particle.situation.vessels.map((s) => {
    if (s.vessel === tun)
      return {
        ...s,
        tempC: tunC,
        waterKg: s.waterKg * tunShare,
        solidsKg: s.solidsKg * tunShare,
        extractKg: s.extractKg * tunShare,
      };
    return pots.includes(s.vessel) ? { ...s, tempC: potC } : s;
  });
  return { ...particle, situation: { ...particle.situation, vessels } };
}
