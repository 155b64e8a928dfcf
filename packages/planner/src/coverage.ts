/** Random invented days with a hidden truth: how often a plan's 80 % bands hold it. For tests and benches. */
import type { Kit } from '@ladlework/brewhouse';
import { normal, type Random, seededRandom } from '@ladlework/numerics';
import { brewDay } from './day.ts';
import type { PlanDocument } from './document.ts';
import { drawsFor } from './ensemble.ts';
import { stateIn } from './moves-of.ts';
import { planDay } from './plan-day.ts';
import { sizeStrike } from './size.ts';
import { playMash, sizeMash } from './stages.ts';
import { pullInto, THREE_BARRELS, weirsideDay } from './three-barrels.ts';

export interface Held {
  /** Landings compared, and those inside their band. */
  readonly landings: number;
  readonly landingsHeld: number;
  /** Minutes the mash takes, likewise. */
  readonly days: number;
  readonly daysHeld: number;
}

/**
 * Plans invented days and lets hidden kits play them as planned, nothing read.
 * @param days invented days, 1 or more
 * @param truths hidden kits a day, 1 or more
 * @param seed of days and truths
 */
export function planCoverage(days: number, truths: number, seed: number): Held {
  const random = seededRandom(seed);
  const held = { landings: 0, landingsHeld: 0, days: 0, daysHeld: 0 };
  for (let d = 0; d < days; d++) {
    const document = anyDay(random);
    const plan = planDay(document, { draws: 200, seed: 1, mash: 'off', changes: false });
    const day = brewDay(document);
    const sized = sizeMash(day, sizeStrike(day), undefined);
    for (const truth of drawsFor(day.kit, truths, seed + 7919 * (d + 1))) {
      const played = playMash(day, sized, truth, undefined, false);
      const ends = played.stages.flatMap((s) => s.moves.map((m) => m.endMin));
      held.days++;
      if (inside(Math.max(...ends), plan.mashEndMin)) held.daysHeld++;
      plan.returns.forEach((r, i) => {
        const open = played.raises[i]?.open;
        if (!open) return;
        held.landings++;
        if (inside(stateIn(open.end, day.restTun.id).tempC, r.landingC)) held.landingsHeld++;
      });
    }
  }
  return held;
}

function inside(value: number, band: { low: number; high: number }): boolean {
  return value >= band.low && value <= band.high;
}

/** Three barrels, give or take: other vessels, burners, grists and rests each time. */
function anyDay(random: Random): PlanDocument {
  const about = (sd: number) => Math.exp(sd * normal(random));
  const kit: Kit = {
    ...THREE_BARRELS,
    airC: 12 + 12 * random(),
    altitudeM: 1200 * random(),
    vessels: THREE_BARRELS.vessels.map((v) => ({
      ...v,
      wallKJK: v.wallKJK * about(0.3),
      lossWK: v.lossWK * about(0.4),
    })),
    burners: THREE_BARRELS.burners.map((b) => ({ ...b, ratedKW: b.ratedKW * about(0.2) })),
    routes: THREE_BARRELS.routes.map((r) => ({ ...r, openAreaM2: r.openAreaM2 * about(0.3) })),
  };
  const first = 60 + 4 * random();
  const second = first + 5 + 4 * random();
  const two = random() < 0.5;
  return weirsideDay(
    {
      liquorLPerKg: 3.2 + random(),
      rests: [
        { tempC: first, minutes: 30 + Math.round(30 * random()) },
        { tempC: second, minutes: 20 + Math.round(20 * random()) },
        ...(two ? [{ tempC: 76, minutes: 10 }] : []),
      ],
      raises: [
        pullInto('kettle', 10 + Math.round(10 * random()), 'thick'),
        ...(two ? [pullInto('kettle', 5, 'thin')] : []),
      ],
    },
    kit,
  );
}
