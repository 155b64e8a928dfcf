/** A kit that cannot exist: fields that are each right and contradict one another. */

import { contradiction, type FieldError } from './errors.ts';
import type { Burner, Kit, Vessel } from './parts.ts';

type Steps = readonly (string | number)[];

/** Upright round vessels of a brewhouse are neither plates nor pipes: depth over diameter. */
const SLIMMEST = 8;
const FLATTEST = 0.08;
/** Least a litre of water takes up per kelvin between 0 and 100 °C [kJ/(L K)], taken low. */
const LEAST_WATER_KJ_LK = 3.95;

/**
 * What contradicts itself in a kit.
 *
 * @param kit of the right shape, each field in its range
 * @param root document the paths are told in, with `at` leading to the kit
 */
export function kitContradictions(kit: Kit, root: unknown = kit, at: Steps = []): FieldError[] {
  return [
    ...sameIds(kit, root, at),
    ...kit.vessels.flatMap((v, n) => vesselErrors(v, root, [...at, 'vessels', n])),
    ...kit.burners.flatMap((b, n) => burnerErrors(kit, b, root, [...at, 'burners', n])),
    ...routeErrors(kit, root, at),
    ...handErrors(kit, root, at),
    ...wortErrors(kit, root, at),
  ];
}

/** Bed, boil and cooler that contradict themselves. */
function wortErrors(kit: Kit, root: unknown, at: Steps): FieldError[] {
  const errors: FieldError[] = [];
  const { lauter, boil, cooler } = kit;
  const retained = lauter?.retainedLPerKg;
  const flooded = lauter?.floodedLPerKg;
  if (retained !== undefined && flooded !== undefined && flooded <= retained) {
    const why = `the bed holds ${flooded} L/kg under wort and keeps ${retained} L/kg when drained; allowed: more than ${retained} L/kg.`;
    const allowed = `more than ${retained} L/kg`;
    errors.push(contradiction(root, [...at, 'lauter', 'floodedLPerKg'], flooded, allowed, why));
  }
  if (boil?.netKW !== undefined && boil.boilOffKgPerH !== undefined) {
    const why = 'net power and boil-off say the same thing twice; allowed: one of the two.';
    const steps = [...at, 'boil', 'boilOffKgPerH'];
    errors.push(contradiction(root, steps, boil.boilOffKgPerH, 'one of the two', why));
  }
  const log = cooler?.how === 'plate' ? cooler.log : undefined;
  if (log !== undefined && (log.toC <= log.liquorInC || log.fromC <= log.toC)) {
    const allowed = `between ${log.liquorInC} and ${log.fromC} °C`;
    const why = `wort cannot leave the cooler at ${log.toC} °C when it comes at ${log.fromC} °C and the liquor at ${log.liquorInC} °C; allowed: ${allowed}.`;
    errors.push(contradiction(root, [...at, 'cooler', 'log', 'toC'], log.toC, allowed, why));
  }
  return errors;
}

/** One id, one thing: the engine keeps clocks of vessels, burners and hands in one table. */
function sameIds(kit: Kit, root: unknown, at: Steps): FieldError[] {
  const first = new Map<string, string>();
  const errors: FieldError[] = [];
  for (const list of ['vessels', 'burners', 'routes', 'hands'] as const) {
    kit[list].forEach((item, n) => {
      const other = first.get(item.id);
      if (other === undefined) first.set(item.id, item.name);
      else {
        const why = `"${item.id}" is also the id of ${other}; each thing of a kit needs its own.`;
        errors.push(
          contradiction(root, [...at, list, n, 'id'], item.id, 'an id not used yet', why),
        );
      }
    });
  }
  return errors;
}

function vesselErrors(vessel: Vessel, root: unknown, at: Steps): FieldError[] {
  const errors: FieldError[] = [];
  const { brimL, deadL, diameterM } = vessel;
  if (deadL >= brimL) {
    const why = `${deadL} L stay behind in a vessel that holds ${brimL} L to the brim; allowed: less than ${brimL} L.`;
    errors.push(contradiction(root, [...at, 'deadL'], deadL, `0 to less than ${brimL} L`, why));
  }
  const depthM = brimL / 1000 / (Math.PI * (diameterM / 2) ** 2);
  const ratio = depthM / diameterM;
  if (ratio > SLIMMEST || ratio < FLATTEST) {
    // Volume = ratio * pi/4 * d^3, so the limits of the ratio are limits of the diameter.
    const bound = (r: number) => Math.cbrt((4 * brimL) / 1000 / Math.PI / r);
    const [low, high] = [bound(SLIMMEST), bound(FLATTEST)];
    const allowed = `${low.toFixed(2)} m to ${high.toFixed(2)} m for ${brimL} L`;
    const why = `${brimL} L in a round vessel ${diameterM} m wide would stand ${depthM.toFixed(2)} m deep; allowed: ${allowed}. Check diameter and volume.`;
    errors.push(contradiction(root, [...at, 'diameterM'], diameterM, allowed, why));
  }
  return errors;
}

function burnerErrors(kit: Kit, burner: Burner, root: unknown, at: Steps): FieldError[] {
  const errors: FieldError[] = [];
  const known = kit.vessels.map((v) => v.id).join(', ');
  burner.heats.forEach((id, n) => {
    if (kit.vessels.some((v) => v.id === id)) return;
    const why = `heats "${id}", which is no vessel of this kit; known: ${known}.`;
    errors.push(contradiction(root, [...at, 'heats', n], id, known, why));
  });
  const test = burner.waterTest;
  if (test === undefined) return errors;
  const path = [...at, 'waterTest'];
  const vessel = kit.vessels.find((v) => v.id === test.vessel);
  if (vessel === undefined || !burner.heats.includes(test.vessel)) {
    const allowed = burner.heats.join(', ');
    const why = `the test was made in "${test.vessel}", which this burner does not heat; allowed: ${allowed}.`;
    errors.push(contradiction(root, [...path, 'vessel'], test.vessel, allowed, why));
  } else if (test.waterL > vessel.brimL) {
    const why = `${test.waterL} L of water do not fit into ${vessel.name}; allowed: up to ${vessel.brimL} L.`;
    errors.push(
      contradiction(root, [...path, 'waterL'], test.waterL, `up to ${vessel.brimL} L`, why),
    );
  }
  if (test.toC <= test.fromC) {
    const why = `the water ends at ${test.toC} °C, no warmer than the ${test.fromC} °C it began at; allowed: more than ${test.fromC} °C.`;
    errors.push(contradiction(root, [...path, 'toC'], test.toC, `above ${test.fromC} °C`, why));
    return errors;
  }
  const leastKW = (LEAST_WATER_KJ_LK * test.waterL * (test.toC - test.fromC)) / (test.minutes * 60);
  if (leastKW > burner.ratedKW) {
    const why = `${test.waterL} L from ${test.fromC} to ${test.toC} °C in ${test.minutes} min takes at least ${leastKW.toFixed(1)} kW, more than the burner's ${burner.ratedKW} kW; check the test and ratedKW.`;
    const shortest = `${((leastKW / burner.ratedKW) * test.minutes).toFixed(0)} min or more`;
    errors.push(contradiction(root, [...path, 'minutes'], test.minutes, shortest, why));
  }
  return errors;
}

function routeErrors(kit: Kit, root: unknown, at: Steps): FieldError[] {
  if (kit.vessels.length > 1 && kit.routes.length === 0) {
    const why = `nothing leads from one vessel to another; add a ladle, bucket, pump or gravity line.`;
    return [contradiction(root, [...at, 'routes'], kit.routes, 'at least one route', why)];
  }
  const biggestL = Math.max(...kit.vessels.map((v) => v.brimL));
  return kit.routes.flatMap((route, n) => {
    const path = [...at, 'routes', n];
    if (route.portionL > biggestL && route.how !== 'pump' && route.how !== 'gravity') {
      const why = `a ${route.how} of ${route.portionL} L is bigger than every vessel; allowed: up to ${biggestL} L.`;
      const allowed = `up to ${biggestL} L`;
      return [contradiction(root, [...path, 'portionL'], route.portionL, allowed, why)];
    }
    if (route.hands > kit.hands.length) {
      const why = `takes ${route.hands} pairs of hands and the kit has ${kit.hands.length}; allowed: up to ${kit.hands.length}.`;
      const allowed = `up to ${kit.hands.length}`;
      return [contradiction(root, [...path, 'hands'], route.hands, allowed, why)];
    }
    return [];
  });
}

function handErrors(kit: Kit, root: unknown, at: Steps): FieldError[] {
  return kit.hands.flatMap((hand, n) => {
    const { fromMin = 0, untilMin = Infinity } = hand;
    if (untilMin > fromMin) return [];
    const why = `${hand.name} leaves at minute ${untilMin}, before coming at minute ${fromMin}; allowed: after minute ${fromMin}.`;
    return [
      contradiction(root, [...at, 'hands', n, 'untilMin'], untilMin, `above ${fromMin} min`, why),
    ];
  });
}
