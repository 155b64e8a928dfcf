import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findUnit, fromHouse, KINDS, type Kind, toHouse } from './units.ts';

const KIND_NAMES = Object.keys(KINDS) as Kind[];

describe('conversion factors', () => {
  // NIST Special Publication 811 (2008), Appendix B.8, seven figures or exact; values from memory.
  it.each<[Kind, string, number, number]>([
    ['volume', 'gal', 1, 3.785412],
    ['volume', 'qt', 1, 0.9463529],
    ['volume', 'fl oz', 1, 0.02957353],
    ['volume', 'UK gal', 1, 4.54609],
    ['mass', 'lb', 1, 0.4535924],
    ['mass', 'oz', 1, 0.02834952],
    ['length', 'in', 1, 0.0254],
    ['length', 'ft', 1, 0.3048],
    ['pressure', 'psi', 1, 6.894757],
    ['pressure', 'bar', 1, 100],
    ['power', 'BTU/h', 1, 0.0002930711],
    ['energy', 'MJ', 3.6, 1],
    ['energy', 'kJ', 3600, 1],
  ])('%s: 1 %s as NIST SP 811 has it', (kind, symbol, x, expected) => {
    expect(toHouse(kind, symbol, x) / expected).toBeCloseTo(1, 6);
  });

  it('US volumes are whole multiples of 231 cubic inches', () => {
    const cubicInchL = 2.54 ** 3 / 1000;
    expect(toHouse('volume', 'gal', 1)).toBeCloseTo(231 * cubicInchL, 12);
    expect(toHouse('volume', 'gal', 1)).toBeCloseTo(toHouse('volume', 'qt', 4), 12);
    expect(toHouse('volume', 'gal', 1)).toBeCloseTo(toHouse('volume', 'fl oz', 128), 12);
    // 27 CFR 25.11: a barrel is 31 gallons of 231 cubic inches.
    expect(toHouse('volume', 'bbl', 1)).toBeCloseTo(31 * 231 * cubicInchL, 10);
  });

  it('fixed points of the temperature scales', () => {
    expect(toHouse('temperature', '°F', 32)).toBe(0);
    expect(toHouse('temperature', '°F', 212)).toBe(100);
    expect(toHouse('temperature', '°F', -40)).toBe(-40);
    expect(toHouse('temperature', 'K', 273.15)).toBe(0);
    expect(toHouse('temperature', 'K', 0)).toBe(-273.15);
    expect(toHouse('temperatureDifference', '°F', 9)).toBe(5);
    expect(toHouse('temperatureDifference', 'K', 9)).toBe(9);
  });

  // 27 CFR 25.156 and 25.158, container sizes to US barrels.
  const rows = readFileSync('reference/data/barrel-equivalents.csv', 'utf8').trim().split('\n');
  it.each(rows.slice(1).map((r) => r.split(',')))(
    '%s %s x %s is %s US barrels',
    (u, size, n, bbl) => {
      const symbol = u === 'mL' ? 'mL' : 'fl oz';
      const total = toHouse('volume', symbol, Number(size) * Number(n));
      expect(fromHouse('volume', 'bbl', total).toFixed(5)).toBe(Number(bbl).toFixed(5));
    },
  );

  it('liquor to grist: 1 qt/lb is 2.0864 L/kg', () => {
    expect(toHouse('ratio', 'qt/lb', 1)).toBeCloseTo(0.946352946 / 0.45359237, 12);
  });
});

describe('unit names', () => {
  it('every symbol and alias of a kind names exactly one unit of it', () => {
    for (const kind of KIND_NAMES) {
      const seen = new Set<string>();
      for (const u of KINDS[kind].units) {
        for (const name of new Set([u.symbol.toLowerCase().replace('°', ''), ...u.aliases])) {
          expect(seen.has(name), `${kind} ${name}`).toBe(false);
          seen.add(name);
          expect(findUnit(kind, name)?.symbol).toBe(u.symbol);
        }
      }
      expect(findUnit(kind, KINDS[kind].house)).toBeDefined();
    }
  });

  it('refuses a unit of another kind as the bug it is', () => {
    expect(() => toHouse('mass', 'L', 1)).toThrow(RangeError);
  });
});

it('there and back again, every unit of every kind', () => {
  const anyUnit = fc
    .constantFrom(...KIND_NAMES)
    .chain((kind) => fc.tuple(fc.constant(kind), fc.constantFrom(...KINDS[kind].units)));
  fc.assert(
    fc.property(anyUnit, fc.double({ min: -1e6, max: 1e6, noNaN: true }), ([kind, u], x) => {
      const back = fromHouse(kind, u.symbol, toHouse(kind, u.symbol, x));
      expect(Math.abs(back - x)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(x)));
    }),
  );
});
