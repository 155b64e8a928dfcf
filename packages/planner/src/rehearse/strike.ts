/** How a fault strikes the hidden kit, what of it can be seen, and when it is over. */
import type { Draw, Kit, MashEngine, Move, Trace } from '@ladlework/brewhouse';
import { type BrewDay, brewDay } from '../day.ts';
import type { DayEntry } from '../live.ts';
import { bringTo } from '../live-going-on.ts';
import type { DaySession } from '../live-session.ts';
import { isTransfer, type Particle, Stepper } from '../live-step.ts';
import { applyMiss } from '../miss/troubles.ts';
import type { Fault } from './faults.ts';
import type { HiddenKit } from './hidden-kit.ts';

/** A fault, and from when until when it holds. */
export interface Strike {
  readonly fault: Fault;
  readonly fromMin?: number;
  /** When it ends by itself, or ended; left out while it goes on. */
  readonly toMin?: number;
  readonly over?: true;
}

/** Something the brewer can see. */
export interface Happening {
  readonly fault: Fault;
  readonly atMin: number;
  readonly text: string;
  /** Vessel whose thermometer says more now. */
  readonly vessel?: string;
  /** What the tool can be told of it. */
  readonly tell?: Extract<DayEntry, { kind: 'miss' }>;
}

/**
 * The hidden kit with everything ended that ends by itself until a minute.
 * @param kit not changed
 * @param atMin [min after day start]
 */
export function struckUpTo(kit: HiddenKit, atMin: number): HiddenKit {
  let now = kit;
  for (const strike of kit.strikes) {
    const { fault, toMin, over } = strike;
    if (over || toMin === undefined || toMin > atMin) continue;
    const vessel = potOf(now.session, fault);
    const dark = bringTo(now.session, vessel, toMin);
    const name = nameOf(now.session, vessel);
    const text = `${name} did not get warmer: its fire was out for ${fault.size} minutes. It is lit again`;
    now = replaced({ ...now, session: dark }, strike, { ...strike, over: true });
    now = saying(now, { fault, atMin: toMin, text, vessel });
  }
  return now;
}

/**
 * The hidden kit after a tap has set off what was waiting for it.
 * @param kit as the tap left it
 * @param entry the tap
 * @param at its minute
 */
export function afterTap(kit: HiddenKit, entry: DayEntry, at: number): HiddenKit {
  if (entry.kind !== 'begun' && entry.kind !== 'done' && entry.kind !== 'portions') return kit;
  let now = kit;
  for (const strike of kit.strikes) {
    if (strike.fault.cannot !== undefined) continue;
    if (strike.fromMin === undefined && setsOff(kit.session, strike.fault, entry))
      now = struck(now, strike, at);
    else if (!strike.over && endsIt(kit.session, strike.fault, entry))
      now = lidBackOn(now, strike, at);
  }
  return now;
}

type Tap = Extract<DayEntry, { kind: 'begun' | 'done' | 'portions' }>;

/** What each fault waits for: the pull being over, its return beginning, its first portions. */
function setsOff(session: DaySession, fault: Fault, tap: Tap): boolean {
  switch (fault.name) {
    case 'wrong-thermometer':
      return tap.kind === 'begun' && isPullOf(session, fault, tap.moveId);
    case 'pump-dies':
      return tap.kind === 'begun' && isReturnOf(session, fault, tap.moveId);
    case 'spilled-ladles':
      return tap.kind === 'portions' && isReturnOf(session, fault, tap.moveId);
    default:
      return tap.kind === 'done' && isPullOf(session, fault, tap.moveId);
  }
}

function endsIt(session: DaySession, fault: Fault, tap: Tap): boolean {
  return (
    fault.name === 'slipping-tun' && tap.kind === 'begun' && isReturnOf(session, fault, tap.moveId)
  );
}

const groupOf = (session: DaySession, fault: Fault) =>
  session.pulls.find((g) => g.pull === fault.pull);

function isPullOf(session: DaySession, fault: Fault, moveId: string): boolean {
  const group = groupOf(session, fault);
  const first = session.moves.find((m, i) => m.kind === 'pull' && group && i >= group.first);
  return first?.id === moveId;
}

function isReturnOf(session: DaySession, fault: Fault, moveId: string): boolean {
  return groupOf(session, fault)?.final.id === moveId;
}

function potOf(session: DaySession, fault: Fault): string {
  return groupOf(session, fault)?.pot ?? session.day.restTun.id;
}

const nameOf = (session: DaySession, vessel: string) =>
  session.day.kit.vessels.find((v) => v.id === vessel)?.name ?? vessel;

function struck(kit: HiddenKit, strike: Strike, at: number): HiddenKit {
  const { fault } = strike;
  const { session } = kit;
  const open = { fault, fromMin: at };
  const now = replaced(kit, strike, open);
  const tell = { kind: 'miss', id: `rehearsal-${fault.name}`, atMin: at } as const;
  switch (fault.name) {
    case 'late-pot':
      return replaced(kit, strike, { ...open, toMin: at + fault.size });
    case 'slipping-tun':
      return now;
    case 'wrong-thermometer':
      return withDraw(now, (d) => ({ ...d, thermometerK: d.thermometerK + fault.size }));
    case 'weak-burner': {
      const text = `The fire under ${nameOf(session, potOf(session, fault))} burns low`;
      const low = withDraw(now, (d) => ({ ...d, burner: d.burner * fault.size }));
      return saying(low, { fault, atMin: at, text });
    }
    case 'helper-gone': {
      const helper = session.day.kit.hands.find((h) => h.id === session.day.hands[1]);
      const slow = withDraw(now, (d) => ({ ...d, hands: d.hands * fault.size }));
      const text = `${helper?.name ?? 'The helper'} had to leave: one pair of hands carries`;
      const thing = helper ? { thing: helper.id } : {};
      return saying(slow, {
        fault,
        atMin: at,
        text,
        tell: { ...tell, code: 'helper-gone', ...thing },
      });
    }
    case 'pump-dies': {
      const route = session.day.pullRoute;
      const text = `${route.name} stands still: the pull goes back by hand, slower and cooler`;
      const told = { ...tell, code: 'pump-dead', thing: route.id } as const;
      return saying(now, { fault, atMin: at, text, tell: told });
    }
    case 'spilled-ladles': {
      const vessel = potOf(session, fault);
      const group = groupOf(session, fault);
      const each = group ? session.stepper.routeOf(group.final).portionL : 0;
      const litres = fault.size * each;
      const miss = { ...tell, code: 'spilled', vessel, litres } as const;
      const after = equipped(applyMiss(session, miss, at), now.strikes);
      const text = `Spilled: ${litres.toFixed(1)} L of the pull went to the floor. Hot and slippery: stand clear, rinse`;
      return saying({ ...now, session: after }, { fault, atMin: at, text, vessel, tell: miss });
    }
  }
}

function lidBackOn(kit: HiddenKit, strike: Strike, at: number): HiddenKit {
  const over = replaced(kit, strike, { ...strike, toMin: at, over: true });
  const text = `${nameOf(kit.session, kit.session.day.restTun.id)} stood uncovered while the pull was away`;
  return saying(over, {
    fault: strike.fault,
    atMin: at,
    text,
    vessel: kit.session.day.restTun.id,
  });
}

function replaced(kit: HiddenKit, old: Strike, strike: Strike): HiddenKit {
  const strikes = kit.strikes.map((s) => (s.fault === old.fault ? strike : s));
  return { ...kit, strikes, session: equipped(kit.session, strikes) };
}

function saying(kit: HiddenKit, happening: Happening): HiddenKit {
  return { ...kit, happenings: [...kit.happenings, happening] };
}

function withDraw(kit: HiddenKit, change: (draw: Draw) => Draw): HiddenKit {
  const { session } = kit;
  const changed = (p: Particle): Particle => ({ ...p, draw: change(p.draw) });
  const likely = session.likely && {
    ...session.likely,
    particle: changed(session.likely.particle),
  };
  return { ...kit, session: { ...session, particles: session.particles.map(changed), likely } };
}

/** The session on the kit as the open faults leave it. */
function equipped(session: DaySession, strikes: readonly Strike[]): DaySession {
  const holds = (name: Fault['name']) =>
    strikes.find((s) => s.fault.name === name && s.fromMin !== undefined && !s.over)?.fault;
  const tun = session.day.restTun.id;
  const slips = holds('slipping-tun');
  const dead = holds('pump-dies');
  const dark = holds('late-pot');
  const kit = brewDay(session.document).kit;
  const now: Kit = {
    ...kit,
    vessels: kit.vessels.map((v) =>
      slips && v.id === tun ? { ...v, lossWK: v.lossWK * slips.size } : v,
    ),
    routes: kit.routes.map((r) =>
      dead && r.id === session.day.pullRoute.id
        ? {
            ...r,
            minutesPerPortion: r.minutesPerPortion * dead.size,
            openAreaM2: r.openAreaM2 * dead.size,
          }
        : r,
    ),
  };
  const day = { ...session.day, kit: now };
  const stepper = new FaultyStepper(day, slips && tun, dark && potOf(session, dark));
  return { ...session, day, stepper };
}

/** Steps on a kit whose tun stands open, or under whose pot no fire burns. */
class FaultyStepper extends Stepper {
  private readonly open: string | undefined;
  private readonly dark: string | undefined;

  constructor(day: BrewDay, open: string | undefined, dark: string | undefined) {
    super(day);
    this.open = open;
    this.dark = dark;
  }

  override simulate(
    particle: Particle,
    moves: readonly Move[],
    engine?: MashEngine,
    draw: Draw = particle.draw,
  ): Trace {
    const really = moves.map((m) => this.really(m));
    return super.simulate(particle, really, engine, draw);
  }

  private really(move: Move): Move {
    if (isTransfer(move)) return move;
    const { id, hands, earliestMin } = move;
    const stands = { id, hands, ...(earliestMin === undefined ? {} : { earliestMin }) };
    if (move.kind === 'rest' && move.vessel === this.open)
      return { ...stands, kind: 'wait', vessel: move.vessel, minutes: move.minutes, lidOn: false };
    if (move.vessel !== this.dark) return move;
    if (move.kind === 'heat' && move.maxMinutes !== undefined)
      return {
        ...stands,
        kind: 'wait',
        vessel: move.vessel,
        minutes: move.maxMinutes,
        lidOn: true,
      };
    if (move.kind === 'hold' || move.kind === 'boil')
      return { ...stands, kind: 'wait', vessel: move.vessel, minutes: move.minutes, lidOn: true };
    return move;
  }
}
