import { describe, expect, it } from 'vitest';
import { enzymeClocks } from './enzyme-clock.ts';

const curves = [
  { vessel: 'tun', timeMin: [0, 20, 60, 60, 80], tempC: [50, 70, 70, 75, 75] },
  { vessel: 'pot', timeMin: [0, 80], tempC: [72, 72] },
];
const minutes = (fromMin: number, toMin: number, vessel: string, name: string) =>
  enzymeClocks(curves, fromMin, toMin)
    .find((c) => c.vessel === vessel)
    ?.minutes.find((m) => m.window.name === name)?.minutes;

describe('enzymeClocks', () => {
  it('counts only the part of a ramp inside the window', () => {
    // 1 K/min from 50 to 70 °C: 60 to 65 °C is minutes 10 to 15.
    expect(minutes(0, 80, 'tun', 'beta-amylase')).toBeCloseTo(5, 12);
  });
  it('counts a hold whole and a jump not at all', () => {
    expect(minutes(0, 80, 'tun', 'alpha-amylase')).toBeCloseTo(60, 12);
  });
  it('cuts at the stretch asked for', () => {
    expect(minutes(12, 14, 'tun', 'beta-amylase')).toBeCloseTo(2, 12);
    expect(minutes(30, 50, 'tun', 'beta-amylase')).toBe(0);
  });
  it('keeps a clock for each vessel', () => {
    expect(minutes(0, 30, 'pot', 'alpha-amylase')).toBe(30);
    expect(minutes(0, 30, 'pot', 'beta-amylase')).toBe(0);
  });
});
