import { type Kit, NOMINAL } from '@ladlework/brewhouse';
import { seededRandom } from '@ladlework/numerics';
import { beforeAll, describe, expect, it } from 'vitest';
import { clashesOf } from '../clash.ts';
import { outcomeOf } from '../compare/outcome.ts';
import { DEFAULT_PRICES } from '../compare/prices.ts';
import { brewDay } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { mashEngines } from '../grist.ts';
import { openingSituation, runMoves, sizeStrike } from '../size.ts';
import { sizeMash } from '../stages.ts';
import { ONE_PULL, THREE_BARRELS, THREE_PULLS } from '../three-barrels.ts';
import { usualAxes } from './axes.ts';
import { framesOf } from './frames.ts';
import { FrameScreen, WEIGHED } from './screen.ts';

/** A kit of another size and make: vessels, burners, losses and buckets at random. */
function anyKit(random: () => number): Kit {
  const between = (low: number, high: number) => low + (high - low) * random();
  const pot = between(0.5, 3);
  return {
    ...THREE_BARRELS,
    altitudeM: between(0, 1800),
    airC: between(8, 25),
    vessels: THREE_BARRELS.vessels.map((v) => {
      const scale = v.id === 'stock' ? pot : between(0.75, 1.3);
      return {
        ...v,
        brimL: v.brimL * scale,
        diameterM: v.diameterM * scale ** (1 / 3),
        wallKJK: v.wallKJK * between(0.5, 2),
        lossWK: v.lossWK * between(0.4, 3),
        lid: random() < 0.8,
      };
    }),
    burners: THREE_BARRELS.burners.map((b) => ({ ...b, ratedKW: b.ratedKW * between(0.4, 1.5) })),
    routes: THREE_BARRELS.routes.map((r) => ({
      ...r,
      how: random() < 0.7 ? ('bucket' as const) : ('ladle' as const),
      portionL: between(3, 12),
      minutesPerPortion: between(0.2, 0.8),
      openAreaM2: between(0.05, 0.15),
    })),
  };
}

/** The same plan through the whole engine: own sizing, every portion by itself, mash kinetics. */
function whole(document: PlanDocument, finish: FrameScreen['frame']['recipe']['finish']) {
  const day = brewDay(document);
  const engine = mashEngines(document.beer)(NOMINAL);
  const sized = sizeMash(day, sizeStrike(day), engine);
  const moves = [...sized.moves, ...finish];
  const trace = runMoves(day, openingSituation(day), moves, NOMINAL, engine, false);
  return {
    can: clashesOf(day, sized, trace).length === 0,
    work: outcomeOf(day, moves, trace, NOMINAL, DEFAULT_PRICES),
  };
}

describe('the screen against the whole engine, on kits and plans at random', () => {
  const off = { dayMin: [] as number[], handsMin: [] as number[], energyKWh: [] as number[] };
  const dropped: string[] = [];
  let out = 0;
  let looked = 0;
  beforeAll(() => {
    const random = seededRandom(11);
    const into = new Float64Array(WEIGHED.length);
    for (let k = 0; k < 10; k++) {
      const document = { ...(k % 2 ? THREE_PULLS : ONE_PULL), kit: anyKit(random) };
      const frames = framesOf(document, {});
      for (const frame of frames) {
        const screen = new FrameScreen(frame, usualAxes(frame.recipe.document), DEFAULT_PRICES);
        for (const _ of screen.prepare());
        for (let n = 0; n < 6; n++) {
          const plan = Math.floor(random() * screen.total);
          const may = screen.weigh(plan, into);
          const made = screen.documentOf(plan);
          const { can, work } = whole(made, frame.recipe.finish);
          looked++;
          if (!may) out++;
          if (can && !may) dropped.push(JSON.stringify([k, made.mash]));
          if (!can || !may) continue;
          const wortMin = screen.afterMashMin(plan);
          off.dayMin.push(((into[0] as number) - wortMin) / (60 * work.finishH) - 1);
          off.handsMin.push((into[1] as number) / work.handsBusyMin - 1);
          // Liquor that was hot at minute 0 may need no burner at all.
          if (work.energyKWh > 1) off.energyKWh.push((into[3] as number) / work.energyKWh - 1);
        }
      }
    }
  }, 240_000);

  it('drops no plan that the whole engine can do', () => {
    expect(looked).toBeGreaterThan(300);
    expect(out).toBeGreaterThan(20);
    expect(dropped).toEqual([]);
  });

  it('minutes, hands and energy: nine of ten within 5 %, all within 15 %', () => {
    for (const [what, list] of Object.entries(off)) {
      const sizes = list.map(Math.abs).sort((a, b) => a - b);
      expect(sizes.length, what).toBeGreaterThan(100);
      expect(sizes[Math.floor(0.9 * sizes.length)], `${what}, nine of ten`).toBeLessThan(0.05);
      expect(sizes.at(-1), `${what}, worst`).toBeLessThan(0.15);
    }
  });
});

it('an ordinary kit has at least 20 000 plans, each of them a document of its own', () => {
  const screens = framesOf(ONE_PULL, {}).map(
    (f) => new FrameScreen(f, usualAxes(f.recipe.document), DEFAULT_PRICES),
  );
  for (const screen of screens) for (const _ of screen.prepare());
  expect(screens.reduce((sum, s) => sum + s.total, 0)).toBeGreaterThan(20_000);
  const random = seededRandom(3);
  for (const screen of screens) {
    const texts = new Set<string>();
    const count = Math.min(screen.total, 400);
    const plans = new Set<number>();
    while (plans.size < count) plans.add(Math.floor(random() * screen.total));
    for (const plan of plans) texts.add(JSON.stringify(screen.documentOf(plan).mash));
    expect(texts.size).toBe(count);
  }
});
