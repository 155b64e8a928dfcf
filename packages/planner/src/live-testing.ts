/** An invented kit and day for the tests and benches of the live planner. */
import {
  type Draw,
  type Kit,
  type MashEngine,
  type Move,
  simulate,
  type Trace,
} from '@ladlework/brewhouse';
import { brewDay, dayOptions } from './day.ts';
import type { PlanDocument, Raise } from './document.ts';
import type { DayEntry } from './live.ts';
import { applyEntry } from './live-apply.ts';
import { afterLitres, portionsOf } from './live-portions.ts';
import { type DaySession, minuteOf, openDay } from './live-session.ts';
import { isTransfer, withoutStop } from './live-step.ts';
import { curveAt } from './plan-day.ts';
import { openingSituation, sizeStrike } from './size.ts';
import { sizeMash } from './stages.ts';

/** Three barrels, two vessels: an insulated tun and a gas-fired kettle that also heats the liquor. */
const TWO_VESSELS: Kit = {
  id: 'k-two',
  name: 'Hollow Lane two-vessel',
  altitudeM: 120,
  airC: 16,
  vessels: [
    {
      id: 'tun',
      name: 'Mash tun',
      role: 'mash-tun',
      brimL: 420,
      diameterM: 0.85,
      wallKJK: 28,
      lossWK: 9,
      lid: true,
      deadL: 4,
    },
    {
      id: 'kettle',
      name: 'Kettle',
      role: 'kettle',
      brimL: 520,
      diameterM: 0.8,
      wallKJK: 24,
      lossWK: 12,
      lid: true,
      deadL: 3,
    },
  ],
  burners: [
    {
      id: 'jet',
      name: 'Kettle burner',
      kind: 'gas-burner',
      heats: ['kettle'],
      ratedKW: 60,
    },
  ],
  routes: [
    {
      id: 'bucket',
      name: 'Bucket',
      how: 'bucket',
      portionL: 10,
      minutesPerPortion: 0.6,
      openAreaM2: 0.09,
      carrierKJK: 0.8,
      lineL: 0,
      hands: 2,
    },
  ],
  hands: [
    { id: 'B', name: 'Brewer' },
    { id: 'H', name: 'Helper' },
  ],
  burnersIndoors: false,
};

/** Two pulls, 62 -> 70 -> 76 °C, on the two-vessel kit; short boils, so that a day is quick. */
export const TWO_PULLS: PlanDocument = {
  kit: TWO_VESSELS,
  beer: {
    id: 'b-pale',
    name: 'Pale lager',
    malts: [{ name: 'Pale malt', kg: 68, type: 'base' }],
  },
  mash: {
    layout: 'carry',
    tun: 'tun',
    liquorVessel: 'kettle',
    liquorLPerKg: 3.6,
    rests: [
      { tempC: 62, minutes: 40 },
      { tempC: 70, minutes: 30 },
      { tempC: 76, minutes: 10 },
    ],
    raises: [
      {
        by: 'decoction',
        thickness: 'thick',
        pots: ['kettle'],
        order: 'in-turn',
        pullRest: { tempC: 71, minutes: 10 },
        boilMinutes: 15,
      },
      {
        by: 'decoction',
        thickness: 'thin',
        pots: ['kettle'],
        order: 'in-turn',
        boilMinutes: 5,
      },
    ],
  },
  day: { startMin: 360, liquorC: 12, gristC: 15, kettleC: 62 },
};

/** A stock pot on a two-ring stove beside an insulated box, carried with a ladle. */
export const STOVE: PlanDocument = {
  ...TWO_PULLS,
  kit: {
    ...TWO_VESSELS,
    id: 'k-stove',
    name: 'Back kitchen',
    vessels: [
      {
        id: 'tun',
        name: 'Insulated box',
        role: 'mash-tun',
        brimL: 48,
        diameterM: 0.42,
        wallKJK: 4,
        lossWK: 1.6,
        lid: true,
        deadL: 1,
      },
      {
        id: 'kettle',
        name: 'Stock pot',
        role: 'pot',
        brimL: 40,
        diameterM: 0.36,
        wallKJK: 3,
        lossWK: 4,
        lid: true,
        deadL: 0.5,
      },
    ],
    burners: [{ id: 'ring', name: 'Stove ring', kind: 'gas-hob', heats: ['kettle'], ratedKW: 7 }],
    routes: [
      {
        id: 'ladle',
        name: 'Ladle',
        how: 'ladle',
        portionL: 1.5,
        minutesPerPortion: 0.25,
        openAreaM2: 0.02,
        carrierKJK: 0.15,
        lineL: 0,
        hands: 1,
      },
    ],
  },
  beer: { id: 'b-small', name: 'Small pale', malts: [{ name: 'Pale malt', kg: 7, type: 'base' }] },
};

/** The same tun kept warm by its own jacket, a separate liquor tank and a second burner. */
export const THREE_VESSELS: PlanDocument = {
  ...TWO_PULLS,
  kit: {
    ...TWO_VESSELS,
    id: 'k-three',
    name: 'Hollow Lane three-vessel',
    vessels: [
      ...TWO_VESSELS.vessels,
      {
        id: 'liquor',
        name: 'Liquor tank',
        role: 'liquor-tank',
        brimL: 400,
        diameterM: 0.7,
        wallKJK: 20,
        lossWK: 6,
        lid: true,
        deadL: 3,
      },
    ],
    burners: [
      ...TWO_VESSELS.burners,
      { id: 'jacket', name: 'Tun jacket', kind: 'steam-jacket', heats: ['tun'], ratedKW: 12 },
      { id: 'rod', name: 'Liquor element', kind: 'element', heats: ['liquor'], ratedKW: 18 },
    ],
  },
  mash: { ...TWO_PULLS.mash, liquorVessel: 'liquor' },
};

/** The moves the planner makes of a document, on the likely kit, heat and mass only. */
export function movesFor(document: PlanDocument): Move[] {
  const day = brewDay(document);
  return [...sizeMash(day, sizeStrike(day), undefined).moves];
}

/** A day played on one hidden kit: what happened when, and what was where. */
export interface HiddenDay {
  readonly trace: Trace;
  /** Begun, done, in the order of time. */
  readonly taps: readonly DayEntry[];
  tempC(vessel: string, minute: number): number;
  volumeL(vessel: string, minute: number): number;
}

/** Plays moves on a kit whose truth is `truth`; the brewer stops returns at the target. */
export function hiddenDay(
  document: PlanDocument,
  moves: readonly Move[],
  truth: Draw,
  mash?: MashEngine,
): HiddenDay {
  const day = brewDay(document);
  const trace = simulate(day.kit, openingSituation(day), moves, {
    ...dayOptions(day, truth),
    curves: true,
    ...(mash ? { mash } : {}),
  });
  const taps: DayEntry[] = trace.moves.flatMap((m) => [
    { kind: 'begun', moveId: m.id, atMin: m.startMin } as const,
    { kind: 'done', moveId: m.id, atMin: m.endMin } as const,
  ]);
  taps.sort((a, b) => minuteOf(a) - minuteOf(b));
  const curve = (vessel: string) => trace.curves.find((c) => c.vessel === vessel);
  return {
    trace,
    taps,
    tempC: (vessel, minute) => {
      const c = curve(vessel);
      return curveAt(c?.timeMin ?? [], c?.tempC ?? [], minute);
    },
    volumeL: (vessel, minute) => {
      const c = curve(vessel);
      return curveAt(c?.timeMin ?? [], c?.volumeL ?? [], minute);
    },
  };
}

/** The hidden kit as a session of one particle, for playing a day that does not follow the plan. */
export function hiddenSession(
  document: PlanDocument,
  moves: readonly Move[],
  truth: Draw,
): DaySession {
  const open = openDay(document, moves, { mash: 'off', draws: 1 });
  return { ...open, particles: open.particles.map((p) => ({ ...p, draw: truth })) };
}

/** Applies entries in turn. */
export function applyAll(session: DaySession, entries: readonly DayEntry[]): DaySession {
  return entries.reduce(applyEntry, session);
}

/** Entries up to and with a tap. @throws RangeError when there is no such tap */
export function upTo(
  taps: readonly DayEntry[],
  kind: 'begun' | 'done',
  moveId: string,
): readonly DayEntry[] {
  const index = taps.findIndex((e) => e.kind === kind && e.moveId === moveId);
  if (index < 0) throw new RangeError(`no ${kind} ${moveId} in the day`);
  return taps.slice(0, index + 1);
}

/** A brewer's temperature reading of a hidden day, error and bias included. */
export function tempReading(
  hidden: { tempC(vessel: string, minute: number): number },
  vessel: string,
  atMin: number,
  errorK: number,
  sd = 0.3,
): Extract<DayEntry, { kind: 'reading' }> {
  const value = hidden.tempC(vessel, atMin) + errorK;
  return { kind: 'reading', reading: { vessel, what: 'temp', value, atMin, sd } };
}

/**
 * Taps of a day up to one of them, with three-place tun readings after the moves named and a
 * one-place pot reading after the first pull.
 */
export function tapsWithReadings(
  hidden: HiddenDay,
  truth: Draw,
  until: readonly ['begun' | 'done', string],
  after: readonly string[],
  noise: () => number,
): DayEntry[] {
  const entries: DayEntry[] = [];
  for (const tap of upTo(hidden.taps, ...until)) {
    entries.push(tap);
    if (tap.kind !== 'done' || !after.includes(tap.moveId)) continue;
    const at = minuteOf(tap);
    entries.push(tempReading(hidden, 'tun', at, truth.thermometerK + 0.3 * noise()));
    if (tap.moveId === 'pull-1') entries.push(tempReading(hidden, 'kettle', at, noise(), 1));
  }
  return entries;
}

/** Where the first return of a hidden day lands when the planned need goes back unread. */
export function unreadLanding(trace: Trace, returnId: string, needL: number, portionL: number) {
  const done = trace.moves.find((m) => m.id === returnId)?.transfer;
  if (!done) throw new RangeError(`no transfer ${returnId} in the trace`);
  return afterLitres(portionsOf(done.beforeC, [done], portionL), needL);
}

/** The moves with one return left unread, so that all of it goes back. */
export function unread(moves: readonly Move[], returnId: string): Move[] {
  return moves.map((m) => (m.id === returnId && isTransfer(m) ? withoutStop(m) : m));
}

const PALE = TWO_PULLS.mash.raises[0] as Extract<Raise, { by: 'decoction' }>;

/** Mash in the kettle, park the rest in the tun, boil what stays. */
export const KETTLE_MASH: PlanDocument = {
  ...THREE_VESSELS,
  mash: {
    ...THREE_VESSELS.mash,
    layout: 'kettle-mash',
    tun: 'kettle',
    park: 'tun',
    rests: [
      { tempC: 62, minutes: 40 },
      { tempC: 70, minutes: 20 },
    ],
    raises: [PALE],
  },
};

const TWO_POTS_KIT: Kit = {
  ...STOVE.kit,
  id: 'k-pots',
  vessels: [
    ...STOVE.kit.vessels.map((v) => (v.id === 'kettle' ? { ...v, brimL: 20, diameterM: 0.28 } : v)),
    {
      id: 'pot',
      name: 'Second pot',
      role: 'pot',
      brimL: 18,
      diameterM: 0.28,
      wallKJK: 2,
      lossWK: 3,
      lid: true,
      deadL: 0.3,
    },
    {
      id: 'liquor',
      name: 'Liquor urn',
      role: 'liquor-tank',
      brimL: 45,
      diameterM: 0.35,
      wallKJK: 4,
      lossWK: 3,
      lid: true,
      deadL: 0.5,
    },
  ],
  burners: [
    ...STOVE.kit.burners,
    { id: 'ring-2', name: 'Second ring', kind: 'gas-hob', heats: ['pot'], ratedKW: 5 },
    { id: 'urn', name: 'Urn element', kind: 'element', heats: ['liquor'], ratedKW: 3 },
  ],
};

const SHORT_RESTS = [
  { tempC: 62, minutes: 30 },
  { tempC: 68, minutes: 20 },
];

/** One pull shared by two pots on two rings. */
export const SIDE_BY_SIDE: PlanDocument = {
  ...STOVE,
  kit: TWO_POTS_KIT,
  mash: {
    ...STOVE.mash,
    liquorVessel: 'liquor',
    rests: SHORT_RESTS,
    raises: [{ ...PALE, pots: ['kettle', 'pot'], order: 'side-by-side' }],
  },
};

/** Two loads of one pot, one after the other. */
export const IN_TURN: PlanDocument = {
  ...SIDE_BY_SIDE,
  mash: { ...SIDE_BY_SIDE.mash, raises: [{ ...PALE, pots: ['pot', 'pot'], order: 'in-turn' }] },
};

/** A pull with boiling liquor beside it, then direct heat. */
export const MIXED_RAISES: PlanDocument = {
  ...THREE_VESSELS,
  mash: {
    ...THREE_VESSELS.mash,
    raises: [{ ...PALE, boilingLiquorL: 12 }, { by: 'direct-heat' }],
  },
};
