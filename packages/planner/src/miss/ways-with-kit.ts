/** Ways out with other kit and hands: carry by hand or alone, another burner, put it right first. */
import { type Burner, type Move, type Route, type Vessel, volumeOf } from '@ladlework/brewhouse';
import { type BrewDay, burnerFor, routeHands } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { isTransfer, touchedBy, vesselIn } from '../live-step.ts';
import type { Built, Ground, Refused } from './ground.ts';
import { putRight } from './kit-left.ts';
import { dayLeft, restOfDay, type Standing } from './rest-of-day.ts';

/** A pump is looked at, a gas bottle changed, in about this [min]. common practice, no source */
const PUT_RIGHT_MIN = 20;
/** Mash carried by hand: a bucket one person lifts, and how long each takes. field.md 5, 15 kg is much */
const BY_HAND = { portionL: 8, minutesPerPortion: 0.8, openAreaM2: 0.09, carrierKJK: 0.8 } as const;
/** Somebody alone carries half of what two carry at a time. Our judgement. */
const ALONE_SHARE = 0.5;

/** Buckets in place of the pump; one person's load where one person is left. */
export function carryByHand(way: Ground): Built | Refused {
  const { now, gone } = way.s;
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
    ...way.document,
    kit: carried === undefined ? { ...kit, routes: [...kit.routes, route] } : kit,
    mash: {
      ...mash,
      ...(gone.has(now.day.pullRoute.id) ? { pullRoute: route.id } : {}),
      ...(gone.has(now.day.strikeRoute.id) ? { strikeRoute: route.id } : {}),
    },
  };
  return onRoute(way, text, document, (m) => gone.has(m.route), route);
}

/** One pair of hands does what two did: half loads. */
export function goOnAlone(way: Ground): Built | Refused {
  const { now } = way.s;
  const { mash, kit } = now.document;
  const text = 'Go on alone, half loads at a time';
  const two = now.day.pullRoute;
  if (two.hands < 2) return way.assemble('Go on alone', []);
  const route: Route = {
    ...two,
    id: `${two.id}-alone`,
    name: `${two.name}, alone`,
    portionL: ALONE_SHARE * two.portionL,
    hands: 1,
  };
  const routes = kit.routes.some((r) => r.id === route.id) ? kit.routes : [...kit.routes, route];
  const document: PlanDocument = {
    ...way.document,
    kit: { ...kit, routes },
    mash: { ...mash, pullRoute: route.id },
  };
  return onRoute(way, text, document, (m) => m.route === two.id, route);
}

function onRoute(
  way: Ground,
  text: string,
  document: PlanDocument,
  replaces: (m: Extract<Move, { route: string }>) => boolean,
  route: Route,
): Built | Refused {
  const day = dayLeft(way.s, document);
  const current = way.s.current.map((m) =>
    isTransfer(m) && replaces(m) ? { ...m, route: route.id, hands: routeHands(day, route) } : m,
  );
  return way.assemble(text, [], { document, current });
}

/** The same vessel on another burner, or its content in another vessel on one that burns. */
export function otherBurner(way: Ground): Built | Refused {
  const text = 'Go on with another burner';
  const { now, gone, pots } = way.s;
  way.named = text;
  const vessel = way.miss.vessel ?? pots[0] ?? now.day.liquorVessel.id;
  const day = dayLeft(way.s, way.document);
  const scorched = way.miss.code === 'scorched';
  const here = scorched ? undefined : burnerFor(day.kit, vessel);
  if (here !== undefined)
    return movedTo(way, `Heat it with ${here.name}`, vessel, undefined, here, day);
  const held = volumeOf(vesselIn(way.s.middle, vessel), way.thermal(vessel));
  const other = day.kit.vessels.find(
    (v) =>
      v.id !== vessel &&
      v.id !== day.restTun.id &&
      v.role !== 'fermenter' &&
      burnerFor(day.kit, v.id) !== undefined &&
      emptyIn(way.s, v) &&
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
  return movedTo(
    way,
    `Carry it over to ${other.name} on ${burner.name}`,
    vessel,
    other,
    burner,
    day,
  );
}

function movedTo(
  way: Ground,
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
  const current = way.s.current.map(swap);
  const boil = current.findIndex((m) => m.kind === 'boil' && m.vessel === to);
  const heated = current.some((m) => m.kind === 'heat' && m.vessel === to);
  const up: Move = {
    id: way.idFor('way-boil-up'),
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
            id: way.idFor('way-over'),
            kind: 'return',
            from: vessel,
            to,
            route: day.pullRoute.id,
            hands: routeHands(day, day.pullRoute),
            note: 'Carry it over; leave what is burnt on',
          },
        ];
  const { mash } = way.document;
  const document: PlanDocument = {
    ...way.document,
    mash: {
      ...mash,
      raises: mash.raises.map((r, i) =>
        i >= way.s.begun && r.by === 'decoction'
          ? { ...r, pots: r.pots.map((p) => (p === vessel ? to : p)) }
          : r,
      ),
    },
  };
  return way.assemble(text, [...carry, ...(again ? [up] : [])], {
    current,
    document,
    ends:
      other === undefined
        ? []
        : way.s.current.flatMap((m) =>
            way.s.now.underway.get(m.id)?.tapped && touchedBy(m).includes(vessel) ? [m.id] : [],
          ),
  });
}

/** Lids on until it is put right; then as planned. */
export function putRightFirst(way: Ground): Built | Refused {
  const minutes = way.miss.minutes ?? PUT_RIGHT_MIN;
  const text = `Put it right first, ${minutes.toFixed(0)} min, lids on`;
  const { now, current } = way.s;
  way.named = text;
  const whole = { ...way.s, now: putRight(now), gone: new Set<string>() };
  const later = now.lastMin + minutes;
  const day = dayLeft(whole, now.document);
  const pots = way.s.pots.filter(() => way.miss.code === 'burner-out');
  const need = current.find((m) => m.kind === 'boil' && pots.includes(m.vessel));
  const heated = current.some((m) => m.kind === 'heat' && pots.includes(m.vessel));
  const up: Move[] =
    need === undefined || need.kind !== 'boil' || heated
      ? []
      : [
          {
            id: way.idFor('way-boil-up'),
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

function emptyIn(standing: Standing, vessel: Vessel): boolean {
  const s = vesselIn(standing.middle, vessel.id);
  return s.waterKg + s.solidsKg + s.extractKg <= vessel.deadL * 1.2 + 0.5;
}
