import fc from 'fast-check';
import { expect, it } from 'vitest';
import { calibrated, foldProbes, type Probe, probeAt } from './probe.ts';
import { DAY_START_MS, Tablet } from './testing.ts';

const TUN: Probe = {
  id: 'p-tun',
  name: 'Tun probe',
  kit: 'k1',
  vessel: 'tun',
  what: 'temp',
  unit: '°C',
  sd: 0.5,
  points: [],
  offset: 0,
  token: 1,
};

it('L17 a probe is what was saved last, and what it was before stays known', () => {
  const b = new Tablet('t1', 'B', 'probe:p-tun');
  const log = [
    b.write('probe-saved', { probe: TUN }),
    b.wait(60).write('probe-saved', { probe: { ...TUN, offset: -0.7 } }),
  ];
  const [found] = foldProbes(log.toReversed());
  expect(found).toMatchObject({ id: 'p-tun', version: 2, retired: false, item: { offset: -0.7 } });
  if (found === undefined) throw new Error('no probe');
  const minute = (n: number) => DAY_START_MS + n * 60_000;
  expect(probeAt(found, minute(59)).offset).toBe(0);
  expect(probeAt(found, minute(60)).offset).toBe(-0.7);
  expect(probeAt(found, minute(-500)).offset).toBe(0);
  const gone = [...log, b.wait(1).write('probe-retired', {})];
  expect(foldProbes(gone)[0]?.retired).toBe(true);
});

it('L17 two points make a straight line through both', () => {
  // Water boils at 100.0 °C at 101.325 kPa and ice melts at 0 °C: IAPWS-IF97, ITS-90.
  const points = [
    { shows: 0.6, is: 0, by: 'ice' },
    { shows: 99.0, is: 100, by: 'boiling' },
  ] as const;
  expect(calibrated({ points, offset: 0 }, 0.6)).toBe(0);
  expect(calibrated({ points, offset: 0 }, 99)).toBeCloseTo(100, 12);
  expect(calibrated({ points, offset: 0 }, 49.8)).toBeCloseTo(50, 12);
});

it('L17 one point shifts, the offset is added, none leaves it as sent', () => {
  const ice = [{ shows: -0.4, is: 0, by: 'ice' }] as const;
  expect(calibrated({ points: ice, offset: 0 }, 62)).toBeCloseTo(62.4, 12);
  expect(calibrated({ points: ice, offset: -0.1 }, 62)).toBeCloseTo(62.3, 12);
  fc.assert(
    fc.property(fc.double({ min: -50, max: 150, noNaN: true }), (x) => {
      expect(calibrated({ points: [], offset: 0 }, x) === x).toBe(true);
    }),
  );
});
