/** From a miss and the name of a way out to the moves it is made of, or why it cannot be. */
import { type Burner, type Move, type Route, type Vessel, volumeOf } from '@ladlework/brewhouse';
import { findRoot } from '@ladlework/numerics';
import { type BrewDay, burnerFor, PLANNED_HEADSPACE, routeHands, UnknownName } from '../day.ts';
import type { PlanDocument, Raise } from '../document.ts';
import { thermalIn } from '../live-assimilate.ts';
import { meansOf, mendMoves, type RepairOrder } from '../live-mend.ts';
import type { DaySession } from '../live-session.ts';
import { isTransfer, Stepper, touchedBy, vesselIn } from '../live-step.ts';
import { boilingLiquorMoves } from '../moves-of.ts';
import { sizeLiquor } from '../stages.ts';
import { putRight } from './kit-left.ts';
import type { Miss } from './miss-types.ts';
import { dayLeft, restOfDay, type Standing } from './rest-of-day.ts';
import type { WayCode } from './way-types.ts';

/** A pump is looked at, a gas bottle changed, in about this [min]. common practice, no source */
const PUT_RIGHT_MIN = 20;
/** How much a rest is stretched when nothing computed says how much [min]. Our judgement. */
const STRETCH_MIN = 15;
/** Mash carried by hand: a bucket one person lifts, and how long each takes. field.md 5, 15 kg is much */
const BY_HAND = { portionL: 8, minutesPerPortion: 0.8, openAreaM2: 0.09, carrierKJK: 0.8 } as const;
/** Somebody alone carries half of what two carry at a time. Our judgement. */
const ALONE_SHARE = 0.5;

/** A way as moves. */
export interface Built {
  readonly text: string;
  /** From now to the end of the mash. */
  readonly moves: readonly Move[];
  readonly document: PlanDocument;
  /** The day it is played on: what is out is not among its burners and hands. */
  readonly day: BrewDay;
  readonly ends: readonly string[];
  /** Changed lengths of moves under way [min]. */
  readonly stretched: ReadonlyMap<string, number>;
}

/** Why a way cannot be gone. */
export interface Refused {
  readonly text: string;
  readonly whyNot: string;
}

export interface WayExtras {
  /** Rest that clears the starch, and malt of a side mash, as reckoned from the kinetics. */
  readonly clearMin?: number;
  readonly sideMaltKg?: number;
  readonly sideText?: string;
}

/**
 * The moves of a way.
 * @param standing where the day stands
 * @param miss what went wrong
 * @param code which way
 * @returns the moves, or a reason in words for the brewer
 */
export function buildWay(
  standing: Standing,
  miss: Miss,
  code: WayCode,
  extras: WayExtras = {},
): Built | Refused {
  const way = new Way(standing, miss, extras);
  try {
    return way.build(code);
  } catch (error) {
    // A later pull without a burner, or a route that is gone, is a way that cannot be gone.
    if (error instanceof UnknownName) return { text: way.named, whyNot: error.message };
    throw error;
  }
}

class Way {
  named = '';
  private readonly s: Standing;
  private readonly miss: Miss;
  private readonly extras: WayExtras;

  constructor(standing: Standing, miss: Miss, extras: WayExtras) {
    this.s = standing;
    this.miss = miss;
    this.extras = extras;
  }

  build(code: WayCode): Built | Refused {
    switch (code) {
      case 'go-on':
        return this.goOn();
      case 'last-of-reserve':
      case 'boiling-liquor':
      case 'cold-liquor':
      case 'small-pull':
      case 'direct-heat':
        return this.mend(code);
      case 'longer-rest':
        return this.rest(this.extras.clearMin ?? STRETCH_MIN);
      case 'shorter-rest':
        return this.rest(-1);
      case 'side-mash':
        return this.sideMash();
      case 'return-now':
        return this.returnNow();
      case 'infusion':
        return this.infusion({ by: 'liquor' });
      case 'heat-on':
        return this.infusion({ by: 'direct-heat' });
      case 'by-hand':
        return this.byHand();
      case 'other-burner':
        return this.otherBurner();
      case 'wait':
        return this.wait();
      case 'smaller-brew':
        return this.smaller();
    }
  }

  private get document(): PlanDocument {
    const { gone, now } = this.s;
    const { day, kit } = now.document;
    const hands = (day.hands ?? kit.hands.map((h) => h.id)).filter((h) => !gone.has(h));
    const changed = hands.length > 0 && kit.hands.some((h) => gone.has(h.id));
    return changed ? { ...now.document, day: { ...day, hands } } : now.document;
  }

  /** First moves, then whatever is left of the raise, then the later raises sized again. */
  private assemble(
    text: string,
    first: readonly Move[],
    more: {
      readonly document?: PlanDocument;
      readonly current?: readonly Move[];
      readonly ends?: readonly string[];
      readonly stretched?: ReadonlyMap<string, number>;
    } = {},
  ): Built | Refused {
    this.named = text;
    const { document, day, turned } = this.boilable(more.document ?? this.document);
    const current = (more.current ?? this.s.current).map((m) => this.withHands(m, day));
    const broken = this.brokenIn([...first, ...current], day);
    if (broken !== undefined) return { text, whyNot: broken };
    const ready = this.fromNow(first).map((m) => this.withHands(m, day));
    const { moves, reached } = restOfDay(this.s, day, [...ready, ...current]);
    const late = this.brokenIn(moves, day);
    if (late !== undefined) return { text, whyNot: late };
    if (!reached) return { text, whyNot: 'a later rest would not be reached' };
    return {
      text: turned === undefined ? text : `${text}; later raises by ${turned}`,
      moves,
      document,
      day,
      ends: more.ends ?? [],
      stretched: more.stretched ?? new Map(),
    };
  }

  /** Later pulls that no burner boils any more become heat on the tun, or boiling liquor. */
  private boilable(document: PlanDocument): {
    readonly document: PlanDocument;
    readonly day: BrewDay;
    readonly turned?: string;
  } {
    const day = dayLeft(this.s, document);
    const { raises } = document.mash;
    const dead = (r: Raise, i: number) =>
      i >= this.s.begun && r.by === 'decoction' && !r.pots.every((p) => burnerFor(day.kit, p));
    if (!raises.some(dead)) return { document, day };
    const by: Raise | undefined = burnerFor(day.kit, day.restTun.id)
      ? { by: 'direct-heat' }
      : day.liquorBurner && { by: 'liquor' };
    if (by === undefined) return { document, day };
    const mash = { ...document.mash, raises: raises.map((r, i) => (dead(r, i) ? by : r)) };
    const changed = { ...document, mash };
    const turned = by.by === 'liquor' ? 'boiling liquor' : 'direct heat';
    return { document: changed, day: dayLeft(this.s, changed), turned };
  }

  private fromNow(moves: readonly Move[]): Move[] {
    const { lastMin } = this.s.now;
    return moves.map((m) => ({ ...m, earliestMin: Math.max(lastMin, m.earliestMin ?? 0) }));
  }

  /** Hands that went home are not asked for. */
  private withHands(move: Move, day: BrewDay): Move {
    if (move.hands.every((h) => day.hands.includes(h))) return move;
    const left = move.hands.filter((h) => day.hands.includes(h));
    return { ...move, hands: left.length > 0 ? left : day.hands.slice(0, 1) };
  }

  /** What a list of moves needs that is out. */
  private brokenIn(moves: readonly Move[], day: BrewDay): string | undefined {
    const { gone } = this.s;
    for (const m of moves) {
      if (isTransfer(m) && gone.has(m.route))
        return `${this.nameOf(m.route)} is out, and ${noteOf(m)} needs it`;
      if ('burner' in m && !day.kit.burners.some((b) => b.id === m.burner))
        return `${this.nameOf(m.burner)} is out, and ${noteOf(m)} needs it`;
    }
    return undefined;
  }

  private nameOf(id: string): string {
    const { kit } = this.s.now.document;
    return [...kit.burners, ...kit.routes, ...kit.hands].find((x) => x.id === id)?.name ?? id;
  }

  private goOn(): Built | Refused {
    if (this.miss.code === 'helper-gone') return this.alone();
    const text =
      this.miss.code === 'scorched'
        ? 'Half fire, stir without a break, do not scrape the bottom'
        : 'Go on as it is';
    return this.assemble(text, []);
  }

  /** A repair of the mash where it stands, sized on the mean of the ensemble. */
  private mend(code: Extract<WayCode, RepairOrder['code']>): Built | Refused {
    const session = this.sessionLeft();
    const means = meansOf(session);
    // While a pull is away the mash is kept at the rest it is in.
    const targetC = this.s.restC;
    const tun = session.day.restTun;
    const tunC = vesselIn(this.s.middle, tun.id).tempC;
    const text = MEND_TEXT[code];
    this.named = text;
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
      return this.assemble(
        `${text} to ${targetC.toFixed(0)} °C`,
        this.mendMoves(session, { code, targetC }),
      );
    const heldL = volumeOf(vesselIn(this.s.middle, tun.id), this.thermal(tun.id));
    const mostL = this.mostL(code, means, heldL);
    const landing = (amountL: number) => {
      const moves = mendMoves(session, { code, amountL });
      const trace = session.stepper.simulate(this.s.middle, moves);
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
    return this.assemble(
      `${text}, ${root.x.toFixed(root.x < 10 ? 1 : 0)} L`,
      this.mendMoves(session, { code, amountL: root.x }),
    );
  }

  private mendMoves(session: DaySession, order: RepairOrder): Move[] {
    return mendMoves(session, order).map((m) => ({
      ...m,
      id: this.idFor(m.id),
      note: m.note ?? noteOf(m),
    }));
  }

  /** Ids stay apart when a day is mended twice. */
  private idFor(id: string): string {
    const taken = new Set(this.s.now.moves.map((m) => m.id));
    let own = id.replace(/-(\d+)$/, '_$1');
    for (let n = 1; taken.has(own); n++) own = `${id}_${n}`;
    return own;
  }

  private mostL(code: WayCode, means: ReturnType<typeof meansOf>, heldL: number): number {
    if (code === 'last-of-reserve' && means.reserve)
      return Math.max(
        0.2,
        volumeOf(vesselIn(this.s.middle, means.reserve.id), this.thermal(means.reserve.id)) -
          means.reserve.deadL,
      );
    if (code === 'small-pull' && means.pot)
      return Math.min(0.9 * heldL, means.pot.vessel.brimL * (1 - PLANNED_HEADSPACE));
    const liquor = means.liquor?.vessel.brimL ?? heldL;
    return code === 'boiling-liquor' ? Math.min(2 * heldL, 0.9 * liquor) : 2 * heldL;
  }

  private thermal(vessel: string) {
    return thermalIn(this.s.now.day, vessel, this.s.middle.draw);
  }

  /** The session on the kit as far as it works. */
  private sessionLeft(): DaySession {
    const day = dayLeft(this.s, this.document);
    return { ...this.s.now, particles: [this.s.middle], day, stepper: new Stepper(day) };
  }

  /** The rest that is going on, or the next one, longer or cut to half of what is left. */
  private rest(byMin: number): Built | Refused {
    const tun = this.s.now.day.restTun.id;
    const found = this.s.current.find((m) => isRestIn(m, tun));
    const text = (minutes: number) =>
      minutes > 0
        ? `Rest ${minutes.toFixed(0)} min longer`
        : `Cut the rest by ${(-minutes).toFixed(0)} min`;
    if (found === undefined || found.kind !== 'rest') {
      if (byMin <= 0) return { text: 'Cut the rest short', whyNot: 'no rest is left to cut' };
      const hold: Move = {
        id: this.idFor('way-rest'),
        kind: 'rest',
        vessel: tun,
        minutes: byMin,
        hands: [],
        note: 'Rest on',
      };
      return this.assemble(text(byMin), [hold]);
    }
    const change = byMin > 0 ? byMin : -found.minutes / 2;
    if (byMin < 0 && found.minutes < 4)
      return { text: 'Cut the rest short', whyNot: 'hardly any of it is left' };
    const current = this.s.current.map((m) => (m === found ? longer(found, change) : m));
    return this.assemble(text(change), [], {
      current,
      stretched: new Map([[found.id, change]]),
    });
  }

  /** The liquid of a small fresh mash brings enzyme; its heat and volume are carried on. */
  private sideMash(): Built | Refused {
    const { sideMaltKg, sideText } = this.extras;
    const text = 'Stir in the liquid of a small fresh mash';
    if (sideMaltKg === undefined) return { text, whyNot: sideText ?? 'a rest alone clears it' };
    const fill: Move = {
      id: this.idFor('way-side-mash'),
      kind: 'fill',
      vessel: this.s.now.day.restTun.id,
      litres: 0.7 * 3 * sideMaltKg,
      tempC: 50,
      minutes: 25,
      hands: this.s.now.day.hands.slice(0, 1),
      note: sideText ?? text,
    };
    return this.assemble(sideText ?? text, [
      fill,
      { ...REST_45, id: this.idFor('way-rest'), vessel: fill.vessel },
    ]);
  }

  /** What is in the pots goes back as hot as it is. */
  private returnNow(): Built | Refused {
    const text = 'Return now what is in the pot, as hot as it is';
    this.named = text;
    if (!this.s.open || this.s.pots.length === 0) return { text, whyNot: 'no pot holds mash' };
    return this.assemble(text, [], this.uncooked());
  }

  /** What is left of the raise without heating the pots on, and what that breaks off. */
  private uncooked(): { readonly current: readonly Move[]; readonly ends: readonly string[] } {
    const { pots, current, now } = this.s;
    const drops = (m: Move) =>
      m.id.startsWith('rest-on-') ||
      (COOKS.has(m.kind) && touchedBy(m).some((v) => pots.includes(v)) && !m.id.startsWith('kept'));
    return {
      current: current.filter((m) => !drops(m)),
      ends: current.flatMap((m) => (drops(m) && now.underway.get(m.id)?.tapped ? [m.id] : [])),
    };
  }

  /** Every raise to come by hot liquor, or by the burner of the tun; a pull that is out goes back. */
  private infusion(by: Raise): Built | Refused {
    const { begun, open, now, middle } = this.s;
    const text =
      by.by === 'liquor' ? 'Finish as an infusion, with boiling liquor' : 'Finish on direct heat';
    this.named = text;
    const { mash } = this.document;
    const document: PlanDocument = {
      ...this.document,
      mash: { ...mash, raises: mash.raises.map((r, i) => (i < begun ? r : by)) },
    };
    if (begun >= mash.raises.length && !open) return { text, whyNot: 'no raise is left' };
    const day = dayLeft(this.s, document);
    if (by.by === 'liquor' && day.liquorBurner === undefined)
      return { text, whyNot: `no burner heats ${day.liquorVessel.name}` };
    const heater = burnerFor(day.kit, day.restTun.id);
    if (by.by === 'direct-heat' && heater === undefined)
      return { text, whyNot: `no burner heats ${day.restTun.name}` };
    let first: readonly Move[] = [];
    let current = this.s.current;
    let ends: readonly string[] = [];
    if (open) {
      ({ current, ends } = this.uncooked());
      const after = current.findLastIndex((m) => m.kind === 'return' && !m.id.startsWith('kept'));
      const returned = current.slice(0, after + 1);
      const then = now.stepper.day;
      const situation = this.situationAfter(then, returned);
      const raised = this.raiseNow(day, situation, by, heater);
      if (raised === undefined) return { text, whyNot: 'no amount of boiling liquor gets there' };
      first = [...returned, ...raised];
      current = current.slice(after + 1);
    }
    const built = this.assemble(text, first, { document, current, ends });
    if ('whyNot' in built) return built;
    const litres = built.moves.reduce((sum, m) => sum + (m.kind === 'pour' ? m.litres : 0), 0);
    const heldL = day.kit.vessels
      .filter((v) => v.id === day.restTun.id || this.s.pots.includes(v.id))
      .reduce((sum, v) => sum + volumeOf(vesselIn(middle, v.id), this.thermal(v.id)), 0);
    if (heldL + litres > day.restTun.brimL)
      return {
        text,
        whyNot: `it takes ${litres.toFixed(0)} L, and ${day.restTun.name} has room for ${Math.max(0, day.restTun.brimL - heldL).toFixed(0)} L`,
      };
    return { ...built, text: litres > 0 ? `${text}, ${litres.toFixed(0)} L in all` : text };
  }

  private situationAfter(day: BrewDay, moves: readonly Move[]) {
    const stepper = new Stepper(day);
    const { middle } = this.s;
    const end = moves.length === 0 ? middle : stepper.run(middle, moves);
    return end.situation;
  }

  private raiseNow(
    day: BrewDay,
    situation: ReturnType<Way['situationAfter']>,
    by: Raise,
    heater: Burner | undefined,
  ): Move[] | undefined {
    const { begun, targetC } = this.s;
    if (by.by === 'direct-heat')
      return heater === undefined
        ? undefined
        : [
            {
              id: this.idFor(`raise-${begun}`),
              kind: 'heat',
              vessel: day.restTun.id,
              burner: heater.id,
              to: targetC,
              maxKPerMin: 1.5,
              lidOn: true,
              hands: day.hands.slice(-1),
              note: 'Heat the mash, stir',
            },
          ];
    const need = sizeLiquor(day, begun, situation, targetC, undefined, this.s.middle.draw);
    if (!need.reached) return undefined;
    if (need.litres < 0.5) return [];
    return boilingLiquorMoves(day, `w${begun}`, need.litres * 1.1, targetC).map((m) => ({
      ...m,
      id: this.idFor(m.id),
    }));
  }

  /** Buckets in place of the pump; one person's load where one person is left. */
  private byHand(): Built | Refused {
    const { now, gone } = this.s;
    const { kit, mash } = now.document;
    const carried = kit.routes.find(
      (r) => !gone.has(r.id) && (r.how === 'bucket' || r.how === 'ladle'),
    );
    const route: Route = carried ?? {
      ...BY_HAND,
      id: 'by-hand',
      name: 'Bucket',
      how: 'bucket',
      lineL: 0,
      hands: 1,
    };
    const text = `Carry by hand: ${route.portionL.toFixed(0)} L at a time`;
    const document: PlanDocument = {
      ...this.document,
      kit: carried === undefined ? { ...kit, routes: [...kit.routes, route] } : kit,
      mash: {
        ...mash,
        ...(gone.has(now.day.pullRoute.id) ? { pullRoute: route.id } : {}),
        ...(gone.has(now.day.strikeRoute.id) ? { strikeRoute: route.id } : {}),
      },
    };
    return this.onRoute(text, document, (m) => gone.has(m.route), route);
  }

  /** One pair of hands does what two did: half loads. */
  private alone(): Built | Refused {
    const { now } = this.s;
    const { mash, kit } = now.document;
    const text = 'Go on alone, half loads at a time';
    const two = now.day.pullRoute;
    if (two.hands < 2) return this.assemble('Go on alone', []);
    const route: Route = {
      ...two,
      id: `${two.id}-alone`,
      name: `${two.name}, alone`,
      portionL: ALONE_SHARE * two.portionL,
      hands: 1,
    };
    const routes = kit.routes.some((r) => r.id === route.id) ? kit.routes : [...kit.routes, route];
    const document: PlanDocument = {
      ...this.document,
      kit: { ...kit, routes },
      mash: { ...mash, pullRoute: route.id },
    };
    return this.onRoute(text, document, (m) => m.route === two.id, route);
  }

  private onRoute(
    text: string,
    document: PlanDocument,
    replaces: (m: Extract<Move, { route: string }>) => boolean,
    route: Route,
  ): Built | Refused {
    const day = dayLeft(this.s, document);
    const current = this.s.current.map((m) =>
      isTransfer(m) && replaces(m) ? { ...m, route: route.id, hands: routeHands(day, route) } : m,
    );
    return this.assemble(text, [], { document, current });
  }

  /** The same vessel on another burner, or its content in another vessel on one that burns. */
  private otherBurner(): Built | Refused {
    const text = 'Go on with another burner';
    const { now, gone, pots } = this.s;
    this.named = text;
    const vessel = this.miss.vessel ?? pots[0] ?? now.day.liquorVessel.id;
    const day = dayLeft(this.s, this.document);
    const scorched = this.miss.code === 'scorched';
    const here = scorched ? undefined : burnerFor(day.kit, vessel);
    if (here !== undefined)
      return this.moved(`Heat it with ${here.name}`, vessel, undefined, here, day);
    const held = volumeOf(vesselIn(this.s.middle, vessel), this.thermal(vessel));
    const other = day.kit.vessels.find(
      (v) =>
        v.id !== vessel &&
        v.id !== day.restTun.id &&
        v.role !== 'fermenter' &&
        burnerFor(day.kit, v.id) !== undefined &&
        emptyIn(this.s, v) &&
        v.brimL * 0.85 >= held,
    );
    if (other === undefined)
      return {
        text,
        whyNot: 'no other burner, and no empty vessel on one, takes what is in the pot',
      };
    const burner = burnerFor(day.kit, other.id) as Burner;
    if (gone.has(day.pullRoute.id))
      return { text, whyNot: `${day.pullRoute.name} is out, and it has to be carried over` };
    return this.moved(
      `Carry it over to ${other.name} on ${burner.name}`,
      vessel,
      other,
      burner,
      day,
    );
  }

  private moved(
    text: string,
    vessel: string,
    other: Vessel | undefined,
    burner: Burner,
    day: BrewDay,
  ): Built | Refused {
    const to = other?.id ?? vessel;
    const swap = (m: Move): Move => {
      const own = 'vessel' in m && m.vessel === vessel ? { ...m, vessel: to } : m;
      const from = isTransfer(own) && own.from === vessel ? { ...own, from: to } : own;
      return (
        'burner' in from && touchedBy(from).includes(to) ? { ...from, burner: burner.id } : from
      ) as Move;
    };
    const current = this.s.current.map(swap);
    const boil = current.findIndex((m) => m.kind === 'boil' && m.vessel === to);
    const heated = current.some((m) => m.kind === 'heat' && m.vessel === to);
    const up: Move = {
      id: this.idFor('way-boil-up'),
      kind: 'heat',
      vessel: to,
      burner: burner.id,
      to: 'boil',
      maxKPerMin: 2.8,
      lidOn: false,
      hands: current[boil]?.hands ?? [],
      note: 'Bring to the boil, stir',
    };
    const again = boil >= 0 && !heated;
    const carry: Move[] =
      other === undefined
        ? []
        : [
            {
              id: this.idFor('way-over'),
              kind: 'return',
              from: vessel,
              to,
              route: day.pullRoute.id,
              hands: routeHands(day, day.pullRoute),
              note: 'Carry it over; leave what is burnt on',
            },
          ];
    const { mash } = this.document;
    const document: PlanDocument = {
      ...this.document,
      mash: {
        ...mash,
        raises: mash.raises.map((r, i) =>
          i >= this.s.begun && r.by === 'decoction'
            ? { ...r, pots: r.pots.map((p) => (p === vessel ? to : p)) }
            : r,
        ),
      },
    };
    return this.assemble(text, [...carry, ...(again ? [up] : [])], {
      current,
      document,
      ends:
        other === undefined
          ? []
          : this.s.current.flatMap((m) =>
              this.s.now.underway.get(m.id)?.tapped && touchedBy(m).includes(vessel) ? [m.id] : [],
            ),
    });
  }

  /** Lids on until it is put right; then as planned. */
  private wait(): Built | Refused {
    const minutes = this.miss.minutes ?? PUT_RIGHT_MIN;
    const text = `Put it right first, ${minutes.toFixed(0)} min, lids on`;
    const { now, current } = this.s;
    this.named = text;
    const whole = { ...this.s, now: putRight(now), gone: new Set<string>() };
    const later = now.lastMin + minutes;
    const day = dayLeft(whole, now.document);
    const pots = this.s.pots.filter(() => this.miss.code === 'burner-out');
    const need = current.find((m) => m.kind === 'boil' && pots.includes(m.vessel));
    const heated = current.some((m) => m.kind === 'heat' && pots.includes(m.vessel));
    const up: Move[] =
      need === undefined || need.kind !== 'boil' || heated
        ? []
        : [
            {
              id: this.idFor('way-boil-up'),
              kind: 'heat',
              vessel: need.vessel,
              burner: need.burner,
              to: 'boil',
              maxKPerMin: 2.8,
              lidOn: false,
              hands: need.hands,
              note: 'Bring to the boil again, stir',
            },
          ];
    const first = [...up, ...current].map((m) => ({
      ...m,
      earliestMin: m.kind === 'rest' ? (m.earliestMin ?? 0) : Math.max(later, m.earliestMin ?? 0),
    }));
    const { moves, reached } = restOfDay(whole, day, first);
    if (!reached) return { text, whyNot: 'a later rest would not be reached' };
    return { text, moves, document: now.document, day, ends: [], stretched: new Map() };
  }

  /** What is lost stays lost: the same strength, fewer litres, hops to match. */
  private smaller(): Built | Refused {
    const { now } = this.s;
    const litres = this.miss.litres ?? 0;
    const text = 'Brew that much less: the same strength, hops to match';
    const { beer } = this.document;
    const heldL = now.day.kit.vessels.reduce(
      (sum, v) => sum + volumeOf(vesselIn(this.s.middle, v.id), this.thermal(v.id)),
      0,
    );
    const wanted = beer.target?.tankL;
    if (litres <= 0 || wanted === undefined)
      return { text, whyNot: litres <= 0 ? 'nothing was lost' : 'the beer states no volume' };
    const share = Math.max(0.2, 1 - litres / (heldL + litres));
    const target = { ...beer.target, tankL: share * wanted };
    const hops = beer.hops?.map((h) => ({ ...h, kg: share * h.kg }));
    const document = {
      ...this.document,
      beer: { ...beer, target, ...(hops === undefined ? {} : { hops }) },
    };
    const more = `${text}, ${(share * wanted).toFixed(0)} L in the tank`;
    return this.assemble(more, [], { document });
  }
}

const COOKS: ReadonlySet<Move['kind']> = new Set(['heat', 'hold', 'boil', 'wait']);
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

const noteOf = (m: Move): string => (m.note ?? NOTE[m.kind]).toLowerCase();

const NOTE: Readonly<Record<Move['kind'], string>> = {
  fill: 'Liquor in',
  heat: 'Heat',
  hold: 'Hold',
  boil: 'Boil',
  preheat: 'Preheat',
  'mash-in': 'Mash in',
  rest: 'Rest',
  pull: 'Pull',
  return: 'Return',
  pour: 'Pour',
  rinse: 'Rinse',
  wait: 'Stir and wait',
};

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

function emptyIn(standing: Standing, vessel: Vessel): boolean {
  const s = vesselIn(standing.middle, vessel.id);
  return s.waterKg + s.solidsKg + s.extractKg <= vessel.deadL * 1.2 + 0.5;
}
