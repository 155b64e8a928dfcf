import { describe, expect, it } from 'vitest';
import { enzymeClocks, minutesBetween } from './enzyme-clock.ts';

describe('minutesBetween', () => {
  const ramp = { timeMin: [0, 20, 60, 60, 80], tempC: [50, 70, 70, 75, 75] };
  it('counts only the part of a ramp inside the window', () => {
    // 1 K/min from 50 to 70 °C: 60 to 65 °C is minutes 10 to 15.
    expect(minutesBetween(ramp, 0, 80, 60, 65)).toBeCloseTo(5, 12);
  });
  it('counts a hold whole, its ends included', () => {
    expect(minutesBetween(ramp, 0, 80, 70, 75)).toBeCloseTo(60, 12);
  });
  it('cuts at the stretch asked for', () => {
    expect(minutesBetween(ramp, 12, 14, 60, 65)).toBeCloseTo(2, 12);
    expect(minutesBetween(ramp, 14, 12, 60, 65)).toBe(0);
  });
});

describe('enzymeClocks', () => {
  it('keeps a clock for each vessel', () => {
    const clocks = enzymeClocks(
      [
        { vessel: 'tun', timeMin: [0, 30], tempC: [63, 63] },
        { vessel: 'pot', timeMin: [0, 30], tempC: [72, 72] },
      ],
      0,
      30,
    );
    const of = (vessel: string, enzyme: string) =>
      clocks.find((c) => c.vessel === vessel)?.minutes.find((m) => m.enzyme === enzyme)?.minutes;
    expect(of('tun', 'beta-amylase')).toBe(30);
    expect(of('tun', 'alpha-amylase')).toBe(0);
    expect(of('pot', 'alpha-amylase')).toBe(30);
  });
});
