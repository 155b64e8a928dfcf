import { NOMINAL } from '@ladlework/brewhouse';
import { normalQuantile } from '@ladlework/numerics';
import { describe, expect, test } from 'vitest';
import { brewDay } from './day.ts';
import { assimilate, expectedOf } from './live-assimilate.ts';
import type { Particle } from './live-step.ts';
import { TWO_PULLS } from './live-testing.ts';

const day = brewDay(TWO_PULLS);
const N = 200;
/** Particles whose tun is spread about 62 °C, with the loss factor running along with it. */
const particles: Particle[] = Array.from({ length: N }, (_, i) => {
  const z = normalQuantile((i + 0.5) / N);
  return {
    draw: { ...NOMINAL, loss: Math.exp(-0.3 * z), airK: ((i * 37) % N) / N - 0.5 },
    situation: {
      vessels: [state('tun', 62 + z, 200 + z, 50 - 0.5 * z), state('kettle', 70, 40, 10 + 0.5 * z)],
      freeAtMin: {},
    },
    movedL: {},
  };
});

function state(vessel: string, tempC: number, waterKg: number, dryKg: number) {
  return { vessel, clockMin: 40, tempC, waterKg, solidsKg: 0.6 * dryKg, extractKg: 0.4 * dryKg };
}

const tunC = (p: Particle) => p.situation.vessels[0]?.tempC as number;
const shown = Float64Array.from(particles, tunC);
const mean = (xs: readonly number[]) => xs.reduce((a, b) => a + b, 0) / xs.length;
const variance = (xs: readonly number[]) => {
  const m = mean(xs);
  return xs.reduce((s, x) => s + (x - m) ** 2, 0) / (xs.length - 1);
};
const dry = (p: Particle) =>
  p.situation.vessels.reduce((sum, s) => sum + s.solidsKg + s.extractKg, 0);

describe('a reading draws the ensemble', () => {
  const seen = { shown, value: 63.2, sd: 0.5 };
  const after = assimilate(day, particles, seen);
  const temps = after.particles.map(tunC);
  const v = variance([...shown]);

  // Kalman 1960: gain v / (v + sd2); posterior variance v sd2 / (v + sd2).
  test('to the mean and spread of the closed form', () => {
    const gain = v / (v + 0.25);
    expect(mean(temps)).toBeCloseTo(62 + gain * 1.2, 9);
    expect(variance(temps)).toBeCloseTo((v * 0.25) / (v + 0.25), 9);
  });

  test('and what goes with it by regression: the loss that would explain it', () => {
    const ln = after.particles.map((p) => Math.log(p.draw.loss));
    const gain = v / (v + 0.25);
    expect(mean(ln)).toBeCloseTo(-0.3 * gain * 1.2, 2);
    expect(variance(ln)).toBeLessThan(0.35 * 0.3 ** 2);
  });

  test('but hardly what does not', () => {
    const air = (ps: readonly Particle[]) => variance(ps.map((p) => p.draw.airK));
    expect(air(after.particles) / air(particles)).toBeCloseTo(1, 1);
  });

  test('keeping the grist of every particle, split over the vessels as it may be', () => {
    for (const [i, p] of after.particles.entries())
      expect(dry(p)).toBeCloseTo(dry(particles[i] as Particle), 9);
  });

  test('and books the heat it put in', () => {
    // 1.2 K times the gain, into some 250 kg of mash and its wall, and the water that came with it.
    expect(after.bookedKJ).toBeGreaterThan(500);
    expect(after.bookedKJ).toBeLessThan(3000);
  });

  test('leaving the particles it was given alone', () => {
    expect(Float64Array.from(particles, tunC)).toEqual(shown);
  });
});

describe('a reading that cannot be', () => {
  test('is one more than five standard deviations out', () => {
    const sd = Math.sqrt(variance([...shown]) + 0.25);
    expect(expectedOf({ shown, value: 62 + 4.99 * sd, sd: 0.5 }).questioned).toBe(false);
    expect(expectedOf({ shown, value: 62 + 5.01 * sd, sd: 0.5 }).questioned).toBe(true);
    expect(expectedOf({ shown, value: Number.NaN, sd: 0.5 }).questioned).toBe(true);
  });

  test('once confirmed moves that content nearly there, and teaches the kit little', () => {
    const after = assimilate(day, particles, { shown, value: 75, sd: 0.5, vessel: 'tun' });
    expect(mean(after.particles.map(tunC))).toBeGreaterThan(74.5);
    const ln = mean(after.particles.map((p) => Math.log(p.draw.loss)));
    expect(Math.abs(ln)).toBeLessThan(0.3);
  });

  test('nothing gets hotter than it boils', () => {
    const hot = assimilate(day, particles, { shown, value: 130, sd: 0.5, vessel: 'tun' });
    for (const p of hot.particles) expect(tunC(p)).toBeLessThan(day.boilC + 1);
  });
});
