/** Ways out in the tun itself: heat, liquor, another pull, a rest of another length, fresh enzyme. */
import { type Move, volumeOf } from '@ladlework/brewhouse';
import { findRoot } from '@ladlework/numerics';
import { PLANNED_HEADSPACE } from '../day.ts';
import { meansOf, mendMoves, type RepairOrder } from '../live-mend.ts';
import type { DaySession } from '../live-session.ts';
import { vesselIn } from '../live-step.ts';
import { type Built, type Ground, noteOf, type Refused } from './ground.ts';
import type { WayCode } from './way-types.ts';

/** A miss smaller than this needs no liquor [K]. @source field.md 3, ±0.5 K accept */
const LEAST_K = 0.5;
const REST_45 = { kind: 'rest', minutes: 45, hands: [], note: 'Rest on, test again' } as const;

const MEND_TEXT = {
  'last-of-reserve': 'Return what was kept back',
  'boiling-liquor': 'Pour in boiling liquor',
  'cold-liquor': 'Stir in cold liquor',
  'small-pull': 'Boil another small pull',
  'direct-heat': 'Heat the mash where it stands',
} as const;

/** A repair of the mash where it stands, sized on the mean of the ensemble. */
export function mendInTun(
  way: Ground,
  code: Extract<WayCode, RepairOrder['code']>,
): Built | Refused {
  const session = way.sessionLeft();
  const means = meansOf(session);
  // While a pull is away the mash is kept at the rest it is in.
  const targetC = way.s.restC;
  const tun = session.day.restTun;
  const tunC = vesselIn(way.s.middle, tun.id).tempC;
  const text = MEND_TEXT[code];
  way.named = text;
  const cold = code === 'cold-liquor';
  if (cold ? tunC <= targetC + LEAST_K : tunC >= targetC - LEAST_K)
    return { text, whyNot: 'the mash is where it should be' };
  const none = {
    'last-of-reserve': means.reserve ? undefined : 'nothing was kept back',
    'boiling-liquor':
      means.liquor?.burner === undefined ? 'no vessel is free to boil liquor' : undefined,
    'cold-liquor': undefined,
    'small-pull': means.pot ? undefined : 'no empty pot stands on a burner',
    'direct-heat': means.tunBurner ? undefined : `no burner heats ${tun.name}`,
  }[code];
  if (none !== undefined) return { text, whyNot: none };
  if (code === 'direct-heat')
    return way.assemble(
      `${text} to ${targetC.toFixed(0)} °C`,
      movesOfMend(way, session, { code, targetC }),
    );
  const heldL = volumeOf(vesselIn(way.s.middle, tun.id), way.thermal(tun.id));
  const mostL = mostOf(way, code, means, heldL);
  const landing = (amountL: number) => {
    const moves = mendMoves(session, { code, amountL });
    const trace = session.stepper.simulate(way.s.middle, moves);
    return (trace.end.vessels.find((v) => v.vessel === tun.id)?.tempC ?? tunC) - targetC;
  };
  const root = findRoot(landing, 0.1, mostL, { fTolerance: 0.02, xTolerance: 0.02 });
  if (!root.ok)
    return {
      text,
      whyNot: `even ${mostL.toFixed(0)} L lands at ${(targetC + landing(mostL)).toFixed(1)} °C`,
    };
  const roomL = tun.brimL - heldL;
  if ((cold || code === 'boiling-liquor') && root.x > roomL)
    return { text, whyNot: `${tun.name} has room for ${Math.max(0, roomL).toFixed(0)} L only` };
  return way.assemble(
    `${text}, ${root.x.toFixed(root.x < 10 ? 1 : 0)} L`,
    movesOfMend(way, session, { code, amountL: root.x }),
  );
}

function movesOfMend(way: Ground, session: DaySession, order: RepairOrder): Move[] {
  return mendMoves(session, order).map((m) => ({
    ...m,
    id: way.idFor(m.id),
    note: m.note ?? noteOf(m),
  }));
}

function mostOf(
  way: Ground,
  code: WayCode,
  means: ReturnType<typeof meansOf>,
  heldL: number,
): number {
  if (code === 'last-of-reserve' && means.reserve)
    return Math.max(
      0.2,
      volumeOf(vesselIn(way.s.middle, means.reserve.id), way.thermal(means.reserve.id)) -
        means.reserve.deadL,
    );
  if (code === 'small-pull' && means.pot)
    return Math.min(0.9 * heldL, means.pot.vessel.brimL * (1 - PLANNED_HEADSPACE));
  const liquor = means.liquor?.vessel.brimL ?? heldL;
  return code === 'boiling-liquor' ? Math.min(2 * heldL, 0.9 * liquor) : 2 * heldL;
}

/** The rest that is going on, or the next one, longer or cut to half of what is left. */
export function restOtherwise(way: Ground, byMin: number): Built | Refused {
  const tun = way.s.now.day.restTun.id;
  const found = way.s.current.find((m) => isRestIn(m, tun));
  const text = (minutes: number) =>
    minutes > 0
      ? `Rest ${minutes.toFixed(0)} min longer`
      : `Cut the rest by ${(-minutes).toFixed(0)} min`;
  if (found === undefined || found.kind !== 'rest') {
    if (byMin <= 0) return { text: 'Cut the rest short', whyNot: 'no rest is left to cut' };
    const hold: Move = {
      id: way.idFor('way-rest'),
      kind: 'rest',
      vessel: tun,
      minutes: byMin,
      hands: [],
      note: 'Rest on',
    };
    return way.assemble(text(byMin), [hold]);
  }
  const change = byMin > 0 ? byMin : -found.minutes / 2;
  if (byMin < 0 && found.minutes < 4)
    return { text: 'Cut the rest short', whyNot: 'hardly any of it is left' };
  const current = way.s.current.map((m) => (m === found ? longer(found, change) : m));
  return way.assemble(text(change), [], {
    current,
    stretched: new Map([[found.id, change]]),
  });
}

/** The liquid of a small fresh mash brings enzyme; its heat and volume are carried on. */
export function sideMash(way: Ground): Built | Refused {
  const { sideMaltKg, sideText } = way.extras;
  const text = 'Stir in the liquid of a small fresh mash';
  if (sideMaltKg === undefined) return { text, whyNot: sideText ?? 'a rest alone clears it' };
  const fill: Move = {
    id: way.idFor('way-side-mash'),
    kind: 'fill',
    vessel: way.s.now.day.restTun.id,
    litres: 0.7 * 3 * sideMaltKg,
    tempC: 50,
    minutes: 25,
    hands: way.s.now.day.hands.slice(0, 1),
    note: sideText ?? text,
  };
  return way.assemble(sideText ?? text, [
    fill,
    { ...REST_45, id: way.idFor('way-rest'), vessel: fill.vessel },
  ]);
}

const isRestIn = (m: Move, vessel: string): boolean => m.kind === 'rest' && m.vessel === vessel;

function longer(move: Extract<Move, { kind: 'rest' }>, byMin: number): Move {
  const minutes = Math.max(0, move.minutes + byMin);
  return move.until === undefined
    ? { ...move, minutes }
    : {
        ...move,
        minutes,
        until: { ...move.until, minutes: Math.max(0, move.until.minutes + byMin) },
      };
}
