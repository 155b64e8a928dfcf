import { describe, expect, test } from 'vitest';
import { threePlaces } from './three-places.ts';

describe('three places', () => {
  test('that agree within a kelvin have settled', () => {
    const said = threePlaces([61.4, 61.9, 62.0]);
    expect(said.settled).toBe(true);
    expect(said.meanC).toBeCloseTo(61.77, 2);
    expect(said.spreadK).toBeCloseTo(0.6, 6);
    expect(said.sdK).toBe(0.3);
  });

  test('a plume a kelvin and more away has not', () => {
    const said = threePlaces([61, 62, 65]);
    expect(said.settled).toBe(false);
    // Standard deviation 2.08 K of the three, over the root of three.
    expect(said.sdK).toBeCloseTo(1.2, 2);
  });
});
