/** Draining and refilling in place of sparging, and no sparge at all. */
import { inRange } from '@ladlework/matter';
import { litresAt, platoOf, type WortBody } from './body.ts';
import { type LauterBed, type RunOff, type RunOffPoint, spaceOf } from './lauter.ts';

/**
 * Draining and refilling instead of sparging: each filling is stirred through and drained.
 *
 * @param bed as for {@link runOff}; its stages do not matter
 * @param fillsL liquor added before each drain, in order [L at bed temperature], 0 to 1e6; the first is
 *   added to the mash itself: 0 for draining the mash as it is, one entry alone for no sparge at all
 * @returns the kettle, what each drain gave, and what is left
 * @throws OutOfRange outside the ranges
 * @source mass balance, each filling mixed through
 */
export function batchRunOff(
  bed: LauterBed,
  fillsL: readonly number[],
): { readonly kettle: WortBody; readonly drains: readonly WortBody[]; readonly left: WortBody } {
  const space = spaceOf(bed);
  inRange('number of fillings', fillsL.length, 1, 20, '');
  const kept = space.retainedL + bed.deadL;
  let litres = space.topL + space.bedL + bed.underL;
  let extract = bed.mash.extractKg;
  let liquor = 0;
  const drains = fillsL.map((fill, i) => {
    const added = inRange(`filling ${i + 1}`, fill, 0, 1e6, 'L');
    litres += added;
    liquor += added;
    const out = Math.max(0, litres - kept);
    const kg = litres > 0 ? (extract * out) / litres : 0;
    litres -= out;
    extract -= kg;
    return space.body(out, kg);
  });
  const kettle = drains.reduce(
    (sum, part) => ({
      extractKg: sum.extractKg + part.extractKg,
      waterKg: sum.waterKg + part.waterKg,
    }),
    { extractKg: 0, waterKg: 0 },
  );
  return {
    kettle,
    drains,
    left: {
      extractKg: extract,
      waterKg: bed.mash.waterKg + liquor / space.litresPerKgWater - kettle.waterKg,
    },
  };
}

/**
 * The same as a course, so that it can be read against and forecast like any run-off.
 *
 * @param bed as for {@link batchRunOff}
 * @param fillsL as there
 * @returns the course: the tap keeps one strength through each drain; the last liquor goes on when the
 *   drains before it are in the kettle
 * @throws OutOfRange outside the ranges
 * @source {@link batchRunOff}
 */
export function batchCourse(bed: LauterBed, fillsL: readonly number[]): RunOff {
  const { kettle, drains, left } = batchRunOff(bed, fillsL);
  const points: RunOffPoint[] = [];
  let collectedL = 0;
  let so: WortBody = { extractKg: 0, waterKg: 0 };
  let shutAtL = 0;
  for (const drain of drains) {
    const tapPlato = platoOf(drain);
    shutAtL = collectedL;
    const mark = (kettlePlato: number) =>
      points.push({ collectedL, tapPlato, kettlePlato, extractKg: so.extractKg });
    mark(collectedL > 0 ? platoOf(so) : tapPlato);
    so = { extractKg: so.extractKg + drain.extractKg, waterKg: so.waterKg + drain.waterKg };
    collectedL += litresAt(drain, bed.tC);
    mark(platoOf(so));
  }
  return {
    points,
    kettle,
    left,
    spargeFromL: litresAt(drains[0] ?? kettle, bed.tC),
    shutAtL,
    spargeL: fillsL.reduce((sum, fill) => sum + fill, 0),
    ranDry: true,
  };
}
