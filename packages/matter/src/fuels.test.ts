import { toHouse } from '@ladlework/quantity';
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import {
  boilOffRate,
  FUELS,
  fuelPower,
  HEAT_SOURCES,
  heatingTime,
  netPowerFromWaterTest,
} from './fuels.ts';
import { waterEnthalpy } from './water.ts';

interface Checks {
  readonly 'H1 time to heat 10 kg decoction at 3.0 kW net': {
    readonly t_52_72_min: number;
    readonly t_72_100_min: number;
    readonly evap_15min_kg: number;
  };
  readonly 'H2 heat 40 kg water 15->78 at 3.5 kW net': { readonly min: number };
}
const checks = readDocument<Checks>('physics-checks.json');

it('10 kg of mash at 3 kW: times and boil-off (derived)', () => {
  const expected = checks['H1 time to heat 10 kg decoction at 3.0 kW net'];
  const heatKJK = 36.34;
  expect(heatingTime({ heatKJK, fromC: 52, toC: 72, netKW: 3 })).toBeCloseTo(
    expected.t_52_72_min,
    2,
  );
  expect(heatingTime({ heatKJK, fromC: 72, toC: 100.17, netKW: 3 })).toBeCloseTo(
    expected.t_72_100_min,
    2,
  );
  expect(boilOffRate(3, 100.17) / 4).toBeCloseTo(expected.evap_15min_kg, 2.9);
});

it('40 kg of water from 15 to 78 °C at 3.5 kW, and the power back from the time (derived)', () => {
  const { min } = checks['H2 heat 40 kg water 15->78 at 3.5 kW net'];
  const mean = (waterEnthalpy(78) - waterEnthalpy(15)) / 63;
  expect(heatingTime({ heatKJK: 40 * mean, fromC: 15, toC: 78, netKW: 3.5 })).toBeCloseTo(min, 1);
  expect(netPowerFromWaterTest({ waterKg: 40, fromC: 15, toC: 78, minutes: min })).toBeCloseTo(
    3.5,
    3,
  );
});

// Derived: net kW into boiling wort and kg/h off.
it.each([
  [2, 3.19],
  [3.5, 5.58],
  [5, 7.98],
  [10, 15.95],
])('%d kW boil off %d kg/h', (kW, kgH) => {
  expect(boilOffRate(kW, 100)).toBeCloseTo(kgH, 1.9);
});

// A log of common practice: 8 US gal from 59 to 160 °F in 29 min, net power derived as 4.07 kW.
it('floor burner log: about 4.07 kW net, a quarter of the propane burnt', () => {
  const waterKg = toHouse('volume', 'gal', 8) * 0.999;
  const fromC = toHouse('temperature', '°F', 59);
  const toC = toHouse('temperature', '°F', 160);
  const net = netPowerFromWaterTest({ waterKg, fromC, toC, minutes: 29 });
  expect(Math.abs(net / 4.07 - 1)).toBeLessThan(0.01);
  // 1.6 lb of gas heated it by 101 °F and then 14 °F more.
  const gasKgPerH = (toHouse('mass', 'lb', 1.6) * (101 / 115)) / (29 / 60);
  expect(net / fuelPower('propane', gasKgPerH)).toBeCloseTo(0.24, 1.7);
});

describe('data', () => {
  // Propane in Btu/lb, Guzzo et al. 2022 by another unit: 19 945 and 21 654.
  it('propane in Btu/lb', () => {
    const btuPerLb = (mjKg: number) => ((mjKg * 1000) / 1.05505585262) * 0.45359237;
    expect(Math.abs(btuPerLb(FUELS.propane.lowerMJKg) - 19945)).toBeLessThan(1);
    expect(Math.abs(btuPerLb(FUELS.propane.higherMJKg) - 21654)).toBeLessThan(1);
  });

  it('every fuel gives more with its water condensed; every band is in order', () => {
    for (const f of Object.values(FUELS)) expect(f.higherMJKg).toBeGreaterThan(f.lowerMJKg);
    for (const s of Object.values(HEAT_SOURCES)) {
      expect(s.low).toBeLessThanOrEqual(s.likely);
      expect(s.likely).toBeLessThanOrEqual(s.high);
      expect(s.high).toBeLessThanOrEqual(1);
    }
  });
});

it('refuses burners and boils that cannot be', () => {
  expect(() => heatingTime({ heatKJK: 1, fromC: 72, toC: 52, netKW: 3 })).toThrow(OutOfRange);
  expect(() => heatingTime({ heatKJK: 1, fromC: 52, toC: 72, netKW: 0 })).toThrow(OutOfRange);
  expect(() => boilOffRate(-1, 100)).toThrow(OutOfRange);
  expect(() => fuelPower('propane', Number.NaN)).toThrow(OutOfRange);
});
