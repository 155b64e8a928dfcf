import { describe, expect, test } from 'vitest';
import type { PlanDocument } from './document.ts';
import { drawsFor } from './ensemble.ts';
import type { Repair } from './live.ts';
import { applyEntry } from './live-apply.ts';
import { repairsFor } from './live-repairs.ts';
import { type DaySession, openDay } from './live-session.ts';
import { type Particle, vesselIn } from './live-step.ts';
import {
  applyAll,
  hiddenDay,
  hiddenSession,
  movesFor,
  THREE_VESSELS,
  TWO_PULLS,
  tempReading,
  upTo,
} from './live-testing.ts';

/** After the first return, two kelvin under what was wanted. */
function missed(document: PlanDocument, after: 'return-1' | 'boil-1' = 'return-1') {
  const moves = movesFor(document);
  const truth = drawsFor(document.kit, 40, 77)[8] as Particle['draw'];
  const taps = upTo(hiddenDay(document, moves, truth).taps, 'done', after);
  const kit = applyAll(hiddenSession(document, moves, truth), taps);
  const at = kit.lastMin;
  const tunC = vesselIn(kit.particles[0] as Particle, 'tun').tempC;
  const reading = tempReading({ tempC: () => tunC }, 'tun', at, truth.thermometerK);
  const day = applyEntry(
    applyAll(openDay(document, moves, { mash: 'off', draws: 80, seed: 3 }), taps),
    reading,
  );
  return { day, kit, at, tunC };
}

const of = (repairs: readonly Repair[], code: Repair['code']) =>
  repairs.find((r) => r.code === code);

describe('after a landing too low', () => {
  const { day, kit, at, tunC } = missed(THREE_VESSELS);
  const target = tunC + 2.2;
  const repairs = repairsFor(day, at, target);

  test('possible ones come first, by how close and how quick', () => {
    const possible = repairs.map((r) => r.possible);
    expect(possible.lastIndexOf(true)).toBeLessThan(
      possible.includes(false) ? possible.indexOf(false) : possible.length,
    );
    expect(Math.abs(repairs[0]?.missK as number)).toBeLessThan(0.4);
    const done = repairs.filter((r) => r.possible);
    const miss = done.map((r) => Math.max(0, Math.abs(r.missK) - 0.3));
    for (let i = 1; i < done.length; i++)
      expect(miss[i] as number).toBeGreaterThanOrEqual(miss[i - 1] as number);
  });

  test('boiling liquor, direct heat and what was kept back get there; each says at what price', () => {
    for (const code of ['boiling-liquor', 'direct-heat', 'last-of-reserve'] as const) {
      const repair = of(repairs, code);
      expect([code, repair?.possible]).toEqual([code, true]);
      expect(Math.abs(repair?.missK as number)).toBeLessThan(0.4);
      expect(repair?.minutes).toBeGreaterThan(0);
    }
    const liquor = of(repairs, 'boiling-liquor') as Repair;
    const accept = of(repairs, 'accept') as Repair;
    expect(liquor.mashL).toBeGreaterThan(accept.mashL + 0.9 * (liquor.amountL ?? 0));
    expect(liquor.liquorLPerKg).toBeGreaterThan(accept.liquorLPerKg);
    expect(of(repairs, 'direct-heat')?.liquorLPerKg).toBeCloseTo(accept.liquorLPerKg, 2);
  });

  test('a second pull waits for the kettle to be empty', () => {
    expect(of(repairs, 'small-pull')?.possible).toBe(false);
    expect(of(repairs, 'small-pull')?.whyNot).toBe('Kettle still holds mash');
  });

  test.each(['boiling-liquor', 'direct-heat', 'last-of-reserve', 'wait-and-stir'] as const)(
    'the hidden kit lands as %s said',
    (code) => {
      const repair = of(repairs, code) as Repair;
      const entry = {
        kind: 'mend',
        code,
        atMin: at + repair.minutes,
        minutes: repair.minutes,
        targetC: target,
        ...(repair.amountL === undefined ? {} : { amountL: repair.amountL }),
      } as const;
      const landedC = (s: DaySession) =>
        vesselIn(applyEntry(s, entry).particles[0] as Particle, 'tun').tempC;
      const half = (repair.landingC.high - repair.landingC.low) / 2;
      expect(Math.abs(landedC(kit) - repair.landingC.likely)).toBeLessThan(Math.max(0.3, 2 * half));
    },
  );
});

describe('on two vessels', () => {
  test('the kettle that holds the pull can boil neither liquor nor another pull', () => {
    const { day, at, tunC } = missed(TWO_PULLS, 'boil-1');
    const repairs = repairsFor(day, at, tunC + 3);
    expect(of(repairs, 'boiling-liquor')?.whyNot).toMatch(/no vessel is free/);
    expect(of(repairs, 'small-pull')?.whyNot).toMatch(/still holds mash/);
    expect(of(repairs, 'direct-heat')?.whyNot).toMatch(/no burner heats Mash tun/);
    expect(of(repairs, 'last-of-reserve')?.possible).toBe(true);
  });

  test('once it is empty a small pull raises the mash without water', () => {
    const moves = movesFor(TWO_PULLS);
    const truth = drawsFor(TWO_PULLS.kit, 40, 77)[8] as Particle['draw'];
    const taps = upTo(hiddenDay(TWO_PULLS, moves, truth).taps, 'done', 'drain-liquor');
    const day = applyAll(openDay(TWO_PULLS, moves, { mash: 'off', draws: 60 }), taps);
    const tunC = vesselIn(day.particles[0] as Particle, 'tun').tempC;
    const repairs = repairsFor(day, day.lastMin, tunC + 4);
    const pull = of(repairs, 'small-pull') as Repair;
    expect(pull.possible).toBe(true);
    expect(Math.abs(pull.missK)).toBeLessThan(0.6);
    expect(pull.liquorLPerKg).toBeCloseTo(of(repairs, 'accept')?.liquorLPerKg as number, 1);
    expect(pull.minutes).toBeGreaterThan(10);
    // Four kelvin of 62 -> 100 is about a tenth of the mash; losses make it more.
    expect((pull.amountL as number) / pull.mashL).toBeGreaterThan(0.1);
    expect((pull.amountL as number) / pull.mashL).toBeLessThan(0.25);
  });
});

describe('after a landing too high', () => {
  const { day, kit, at, tunC } = missed(THREE_VESSELS);
  const target = tunC - 1.5;
  const repairs = repairsFor(day, at, target);

  test('cold liquor brings it down, and the hidden kit agrees', () => {
    const cold = of(repairs, 'cold-liquor') as Repair;
    expect(cold.possible).toBe(true);
    const mended = applyEntry(kit, {
      kind: 'mend',
      code: 'cold-liquor',
      atMin: at + cold.minutes,
      minutes: cold.minutes,
      amountL: cold.amountL as number,
    });
    expect(vesselIn(mended.particles[0] as Particle, 'tun').tempC).toBeCloseTo(target, 0);
  });

  test('the rest is held back, nothing hot is offered', () => {
    expect(of(repairs, 'hold-back')?.possible).toBe(true);
    expect(of(repairs, 'boiling-liquor')).toBeUndefined();
  });

  test('a tun without room says so', () => {
    const small = {
      ...day,
      day: { ...day.day, restTun: { ...day.day.restTun, brimL: 268 } },
    };
    expect(of(repairsFor(small, at, tunC - 8), 'cold-liquor')?.whyNot).toMatch(
      /has room for \d+ L only/,
    );
  });

  test('a target that no mash has is refused', () => {
    expect(() => repairsFor(day, at, 162)).toThrow(/targetC 162: allowed 20 to 100 °C/);
  });
});

describe('on target', () => {
  test('it is enough to stir and read again', () => {
    const { day, at, tunC } = missed(THREE_VESSELS);
    expect(
      repairsFor(day, at, tunC)
        .map((r) => r.code)
        .sort(),
    ).toEqual(['accept', 'wait-and-stir']);
  });
});
