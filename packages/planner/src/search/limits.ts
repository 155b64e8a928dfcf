/**
 * Limits of a plan that could be lifted: each with what it is in plain words, the plan without it,
 * and the smallest change that does as well.
 */
import type { Kit, Vessel } from '@ladlework/brewhouse';
import { potOf, withRaise, withRest, withVessel } from '../changes.ts';
import { type Decoction, PLANNED_HEADSPACE, vesselOf } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { clockOf } from '../timetable/timetable-of.ts';
import { look } from './feasible.ts';

export type LimitCode =
  | 'pot-volume'
  | 'loads'
  | 'boiling-liquor'
  | 'rest-temperature'
  | 'burner'
  | 'tun-room'
  | 'liquor-ratio'
  | 'hands'
  | 'finish-by';

/** A change of a plan, and how big it is. */
export interface Freed {
  readonly document: PlanDocument;
  readonly amount: number;
  readonly unit: string;
  readonly text: string;
}

export interface Limit {
  readonly code: LimitCode;
  readonly text: string;
  /** Plans with this limit out of the way; it counts as lifted when one of them can be done. */
  readonly lifted: (document: PlanDocument) => readonly PlanDocument[];
  /** The smallest change after which a plan can be done; undefined when there is none of its kind. */
  readonly smallest: (
    document: PlanDocument,
    done: (document: PlanDocument) => boolean,
  ) => Freed | undefined;
}

/** Far more than any limit: what cannot be done with this much cannot be done with more. */
const VESSEL_GROWS = 6;
const BURNER_GROWS = 8;
const MOST_LOADS = 5;
const STEP_L = 5;
const STEP_KW = 0.5;
const STEP_K = 0.5;
const STEP_L_KG = 0.1;
/** Liquor ratios that are brewed with [L/kg]. @source physics.md 2.7, 2.5-5; a little beyond */
const RATIOS = { low: 2.2, high: 6 } as const;
const STEP_FINISH_MIN = 5;

/** The limits that this plan has. */
export function limitsOf(document: PlanDocument): Limit[] {
  const { kit, mash } = document;
  const pulls = mash.raises.flatMap((r, i) => (r.by === 'decoction' ? [{ pull: r, i }] : []));
  const pots = [...new Set(pulls.flatMap(({ pull }) => pull.pots))].map((id) => vesselOf(kit, id));
  const limits: Limit[] = [];
  const burners = kit.burners.filter((b) => pots.some((p) => b.heats.includes(p.id)));
  for (const burner of burners) limits.push(burnerLimit(burner.id, burner.name, burner.ratedKW));
  limits.push(tunLimit(vesselOf(kit, mash.park ?? mash.tun)), ratioLimit(mash.liquorLPerKg));
  if (document.day.finishByMin !== undefined) limits.push(finishLimit(document));
  if (document.day.finishByMin !== undefined || kit.hands.some((h) => h.untilMin !== undefined))
    limits.push(handsLimit(document));
  if (pulls.length > 0) limits.push(loadsLimit(pulls));
  if (pulls.length > 0) limits.push(liquorLimit(pulls));
  mash.rests.slice(1).forEach((rest, k) => {
    limits.push(restLimit(k + 1, rest.tempC));
  });
  for (const pot of pots) limits.push(potLimit(pot));
  return limits;
}

/** Smallest of rising steps that will do, by halving; the last is known to do or nothing does. */
function leastStep(count: number, does: (step: number) => boolean): number | undefined {
  if (count < 1 || !does(count)) return undefined;
  let low = 0;
  let high = count;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (does(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function potLimit(pot: Vessel): Limit {
  const boils = pot.brimL * (1 - PLANNED_HEADSPACE);
  const grown = (d: PlanDocument, brimL: number) =>
    withVessel(d, { ...vesselOf(d.kit, pot.id), ...potOf(pot, brimL) });
  const sizeAt = (step: number) => (Math.floor(pot.brimL / STEP_L) + step) * STEP_L;
  return {
    code: 'pot-volume',
    text: `${pot.name} holds ${pot.brimL.toFixed(0)} L, and boils ${boils.toFixed(0)} L with freeboard for the foam`,
    lifted: (d) => [grown(d, pot.brimL * VESSEL_GROWS), grown(d, (pot.brimL * VESSEL_GROWS) / 2)],
    smallest: (d, done) => {
      const steps = Math.ceil((pot.brimL * (VESSEL_GROWS - 1)) / STEP_L);
      // A pot too big for its burner is no help: look for the first that does.
      for (let step = 1; step <= steps; step++) {
        const made = grown(d, sizeAt(step));
        if (done(made))
          return {
            document: made,
            amount: sizeAt(step),
            unit: 'L',
            text: `a ${sizeAt(step)} L pot`,
          };
      }
      return undefined;
    },
  };
}

function burnerLimit(id: string, name: string, ratedKW: number): Limit {
  const stronger = (d: PlanDocument, factor: number): PlanDocument => {
    const burners = d.kit.burners.map((b) => {
      if (b.id !== id) return b;
      const { waterTest, ...rest } = b;
      // A burner so much stronger boils the water of its test so much sooner.
      const test = waterTest
        ? { waterTest: { ...waterTest, minutes: waterTest.minutes / factor } }
        : {};
      return { ...rest, ...test, ratedKW: b.ratedKW * factor };
    });
    return { ...d, kit: { ...d.kit, burners } };
  };
  return {
    code: 'burner',
    text: `${name} has ${ratedKW.toFixed(0)} kW`,
    lifted: (d) => [stronger(d, BURNER_GROWS)],
    smallest: (d, done) => {
      const made = (step: number) => stronger(d, (ratedKW + step * STEP_KW) / ratedKW);
      const count = Math.ceil((ratedKW * (BURNER_GROWS - 1)) / STEP_KW);
      const step = leastStep(count, (k) => done(made(k)));
      if (step === undefined) return undefined;
      const kw = ratedKW + step * STEP_KW;
      return {
        document: made(step),
        amount: kw,
        unit: 'kW',
        text: `a burner of ${kw.toFixed(1)} kW`,
      };
    },
  };
}

function tunLimit(tun: Vessel): Limit {
  const roomier = (d: PlanDocument, brimL: number) =>
    withVessel(d, { ...vesselOf(d.kit, tun.id), brimL });
  return {
    code: 'tun-room',
    text: `${tun.name} holds ${tun.brimL.toFixed(0)} L to the brim`,
    lifted: (d) => [roomier(d, tun.brimL * VESSEL_GROWS)],
    smallest: (d, done) => {
      const sizeAt = (step: number) => (Math.floor(tun.brimL / STEP_L) + step) * STEP_L;
      const count = Math.ceil((tun.brimL * (VESSEL_GROWS - 1)) / STEP_L);
      const step = leastStep(count, (k) => done(roomier(d, sizeAt(k))));
      if (step === undefined) return undefined;
      const brimL = sizeAt(step);
      return { document: roomier(d, brimL), amount: brimL, unit: 'L', text: `a tun of ${brimL} L` };
    },
  };
}

function ratioLimit(own: number): Limit {
  const at = (d: PlanDocument, liquorLPerKg: number): PlanDocument => ({
    ...d,
    mash: { ...d.mash, liquorLPerKg },
  });
  const steps: number[] = [];
  for (let k = 1; k * STEP_L_KG <= RATIOS.high - RATIOS.low; k++)
    for (const ratio of [own - k * STEP_L_KG, own + k * STEP_L_KG])
      if (ratio >= RATIOS.low && ratio <= RATIOS.high) steps.push(Math.round(ratio * 10) / 10);
  return {
    code: 'liquor-ratio',
    text: `the mash is ${own.toFixed(1)} L/kg`,
    lifted: (d) => steps.filter((_, k) => k % 6 === 0 || k > steps.length - 3).map((r) => at(d, r)),
    smallest: (d, done) => {
      const ratio = steps.find((r) => done(at(d, r)));
      if (ratio === undefined) return undefined;
      const text = `a ${ratio < own ? 'thicker' : 'thinner'} mash, ${ratio.toFixed(1)} L/kg`;
      return { document: at(d, ratio), amount: ratio, unit: 'L/kg', text };
    },
  };
}

interface PullAt {
  readonly pull: Decoction;
  readonly i: number;
}

function loadsLimit(pulls: readonly PullAt[]): Limit {
  const most = Math.max(...pulls.map(({ pull }) => pull.pots.length));
  const inTurn = (d: PlanDocument, loads: number): PlanDocument =>
    pulls.reduce((made, { i }) => {
      const raise = made.mash.raises[i] as Decoction;
      if (raise.by !== 'decoction' || raise.pots.length >= loads) return made;
      const pots = Array.from(
        { length: loads },
        (_, k) => raise.pots[k % raise.pots.length] as string,
      );
      return withRaise(made, i, { ...raise, pots, order: 'in-turn' });
    }, d);
  const counts = Array.from({ length: MOST_LOADS - most }, (_, k) => most + 1 + k);
  return {
    code: 'loads',
    text: `a pull is boiled in ${most === 1 ? 'one load' : `${most} loads`}`,
    lifted: (d) => counts.map((n) => inTurn(d, n)),
    smallest: (d, done) => {
      const loads = counts.find((n) => done(inTurn(d, n)));
      if (loads === undefined) return undefined;
      const text = `${loads} pot loads in turn, each boiled and returned`;
      return { document: inTurn(d, loads), amount: loads, unit: 'loads', text };
    },
  };
}

function liquorLimit(pulls: readonly PullAt[]): Limit {
  const own = pulls.reduce((sum, { pull }) => sum + (pull.boilingLiquorL ?? 0), 0);
  const beside = (d: PlanDocument, litres: number): PlanDocument =>
    pulls.reduce((made, { i }) => {
      const raise = made.mash.raises[i] as Decoction;
      if (raise.by !== 'decoction') return made;
      const boilingLiquorL = (raise.boilingLiquorL ?? 0) + litres;
      return withRaise(made, i, { ...raise, boilingLiquorL });
    }, d);
  const most = (d: PlanDocument) =>
    Math.floor(vesselOf(d.kit, d.mash.park ?? d.mash.tun).brimL / 2);
  return {
    code: 'boiling-liquor',
    text:
      own > 0
        ? `${own.toFixed(0)} L of boiling liquor go in beside the pull`
        : 'no boiling liquor goes in beside the pull',
    lifted: (d) => {
      const list: PlanDocument[] = [];
      for (let litres = most(d); litres >= 1; litres = Math.floor(litres / 1.6))
        list.push(beside(d, litres));
      return list;
    },
    smallest: (d, done) => {
      // Too much overfills the tun, so what does is a stretch: walk up to it, then halve back.
      for (let high = 1; high <= most(d); high = Math.ceil(high * 1.4)) {
        if (!done(beside(d, high))) continue;
        const litres = leastStep(high, (k) => done(beside(d, k))) ?? high;
        const text = `${litres} L of boiling liquor beside the pull`;
        return { document: beside(d, litres), amount: litres, unit: 'L', text };
      }
      return undefined;
    },
  };
}

function restLimit(index: number, tempC: number): Limit {
  const lower = (d: PlanDocument, toC: number) => withRest(d, index, toC);
  return {
    code: 'rest-temperature',
    text: `rest ${index + 1} is wanted at ${tempC.toFixed(1)} °C`,
    lifted: (d) => {
      const before = d.mash.rests[index - 1]?.tempC ?? 0;
      return [lower(d, before + 1), lower(d, (before + tempC) / 2)];
    },
    smallest: (d, done) => {
      const before = d.mash.rests[index - 1]?.tempC ?? 0;
      const count = Math.floor((tempC - before - 1) / STEP_K);
      const step = leastStep(count, (k) => done(lower(d, tempC - k * STEP_K)));
      if (step === undefined) return undefined;
      const toC = tempC - step * STEP_K;
      const text = `rest ${index + 1} at ${toC.toFixed(1)} °C instead of ${tempC.toFixed(1)} °C`;
      return { document: lower(d, toC), amount: toC, unit: '°C', text };
    },
  };
}

function finishLimit({ day }: PlanDocument): Limit {
  const until = (d: PlanDocument, minute: number | undefined): PlanDocument => {
    const { finishByMin: _, ...rest } = d.day;
    return { ...d, day: minute === undefined ? rest : { ...rest, finishByMin: minute } };
  };
  const hour = (minute: number) => clockOf(day.startMin + minute);
  return {
    code: 'finish-by',
    text: `the day is to end by ${hour(day.finishByMin as number)}`,
    lifted: (d) => [until(d, undefined)],
    smallest: (d, done) => {
      const free = look(d).day;
      if (!free || !Number.isFinite(free.finishMin)) return undefined;
      const minute = Math.ceil(free.finishMin / STEP_FINISH_MIN) * STEP_FINISH_MIN;
      const made = until(d, minute);
      if (!done(made)) return undefined;
      return {
        document: made,
        amount: minute,
        unit: 'min',
        text: `the day to end by ${hour(minute)}`,
      };
    },
  };
}

function handsLimit({ kit, day }: PlanDocument): Limit {
  const here = day.hands ?? kit.hands.map((h) => h.id);
  const more = (d: PlanDocument, window?: { fromMin: number; untilMin: number }): PlanDocument => {
    const hands: Kit['hands'] = [...d.kit.hands, { id: EXTRA, name: 'one more', ...window }];
    return {
      ...d,
      kit: { ...d.kit, hands },
      day: { ...d.day, hands: [...here, EXTRA] },
    };
  };
  return {
    code: 'hands',
    text:
      here.length === 1
        ? 'one pair of hands is at work'
        : `${here.length} pairs of hands are at work`,
    lifted: (d) => [more(d)],
    smallest: (d, done) => {
      const extra = look(more(d)).day?.hands.find((h) => h.id === EXTRA);
      if (!extra || extra.lastMin <= extra.firstMin) return undefined;
      const made = more(d, { fromMin: extra.firstMin, untilMin: extra.lastMin });
      if (!done(made)) return undefined;
      const minutes = extra.lastMin - extra.firstMin;
      const text = `one hand more for ${minutes.toFixed(0)} minutes, from ${clockOf(day.startMin + extra.firstMin)}`;
      return { document: made, amount: minutes, unit: 'min', text };
    },
  };
}

/** Letter of the hand that is not there. */
const EXTRA = 'X';

/**
 * Can a plan be done that keeps all limits but these? A lifted limit may also stay as it is: each is
 * tried alone, in all its ways, then two together of those that help at all.
 * @param gapOf how far a plan is from being done, nought when it can be
 */
export function doneWithout(
  document: PlanDocument,
  lifted: readonly Limit[],
  gapOf: (document: PlanDocument) => number,
): boolean {
  const gap = gapOf(document);
  if (gap === 0) return true;
  const helps: { readonly made: PlanDocument; readonly from: number }[] = [];
  for (const [k, limit] of lifted.entries())
    for (const made of limit.lifted(document)) {
      const left = gapOf(made);
      if (left === 0) return true;
      if (left < gap) helps.push({ made, from: k + 1 });
    }
  return helps.some(({ made, from }) =>
    lifted.slice(from).some((limit) => limit.lifted(made).some((both) => gapOf(both) === 0)),
  );
}
