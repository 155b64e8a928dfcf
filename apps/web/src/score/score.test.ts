import type { Say } from '@ladlework/brewhouse';
import { emptyBrewhouse, type Kit, type Move, NOMINAL, simulate } from '@ladlework/brewhouse';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clockTicks, emptyIn, heightOf, sheetOf, thin } from './geometry.ts';
import { placeLabels } from './labels.ts';
import { scoreModel } from './model.ts';

const say: Say = {
  temp: (c) => `${c.toFixed(0)} °C`,
  volume: (l) => `${l.toFixed(0)} L`,
  mass: (kg) => `${kg.toFixed(0)} kg`,
  minutes: (m) => `${m.toFixed(0)} min`,
  ratio: (r) => `${r.toFixed(1)} L/kg`,
};

const vessel = { wallKJK: 10, lossWK: 5, lid: true, deadL: 1 } as const;
const kit: Kit = {
  id: 'k',
  name: 'Yard',
  altitudeM: 0,
  airC: 18,
  vessels: [
    { ...vessel, id: 'kettle', name: 'Kettle', role: 'kettle', brimL: 200, diameterM: 0.6 },
    { ...vessel, id: 'tun', name: 'Tun', role: 'mash-tun', brimL: 200, diameterM: 0.6 },
    { ...vessel, id: 'pot', name: 'Pot', role: 'pot', brimL: 60, diameterM: 0.4 },
  ],
  burners: [
    { id: 'jet', name: 'Jet', kind: 'element', heats: ['kettle'], ratedKW: 20 },
    { id: 'ring', name: 'Ring', kind: 'induction', heats: ['pot'], ratedKW: 12 },
  ],
  routes: [
    {
      id: 'ladle',
      name: 'Ladle',
      how: 'ladle',
      portionL: 4,
      minutesPerPortion: 0.5,
      openAreaM2: 0.03,
      carrierKJK: 0.5,
      lineL: 0,
      hands: 1,
    },
  ],
  hands: [{ id: 'B', name: 'Brewer' }],
  burnersIndoors: false,
};

const moves: Move[] = [
  { id: 'fill', kind: 'fill', vessel: 'kettle', litres: 120, tempC: 15, minutes: 4, hands: ['B'] },
  { id: 'heat', kind: 'heat', vessel: 'kettle', burner: 'jet', to: 70, lidOn: true, hands: [] },
  {
    id: 'in',
    kind: 'mash-in',
    vessel: 'tun',
    from: 'kettle',
    litres: 100,
    grist: { kg: 30, tempC: 18, moisture: 0.045 },
    minutes: 8,
    hands: ['B'],
  },
  { id: 'rest', kind: 'rest', vessel: 'tun', minutes: 20, hands: [] },
  {
    id: 'pull',
    kind: 'pull',
    from: 'tun',
    to: 'pot',
    route: 'ladle',
    litres: 32,
    thickness: 'thick',
    hands: ['B'],
  },
  { id: 'up', kind: 'heat', vessel: 'pot', burner: 'ring', to: 'boil', lidOn: false, hands: ['B'] },
  {
    id: 'boil',
    kind: 'boil',
    vessel: 'pot',
    burner: 'ring',
    minutes: 10,
    power: 0.5,
    hands: ['B'],
  },
  { id: 'return', kind: 'return', from: 'pot', to: 'tun', route: 'ladle', hands: ['B'] },
];

const trace = simulate(kit, emptyBrewhouse(kit, 18), moves, {
  draw: NOMINAL,
  airC: 18,
  moisture: 0.045,
  curves: true,
});
const model = scoreModel(kit, moves, trace, [], say);

describe('the score of a simulated day', () => {
  it('puts the tun on top, the pot under it, the kettle below', () => {
    expect(model.staves.map((s) => s.name)).toEqual(['Tun', 'Pot', 'Kettle']);
  });

  it('draws liquor in the kettle, mash in the tun, and heat only while the ring is on', () => {
    const matters = (id: string) =>
      new Set(model.staves.find((s) => s.vessel === id)?.stretches.map((s) => s.matter));
    expect(matters('kettle')).toEqual(new Set(['liquor']));
    expect(matters('tun')).toEqual(new Set(['mash']));
    expect(matters('pot')).toEqual(new Set(['mash', 'heat']));
    const pot = model.staves.find((s) => s.vessel === 'pot');
    const fire = pot?.fires[0];
    const hot = pot?.stretches.filter((s) => s.matter === 'heat') ?? [];
    expect(fire?.[0]).toBeCloseTo(hot[0]?.timeMin[0] ?? -1, 1);
    expect(fire?.[1]).toBeCloseTo(hot.at(-1)?.timeMin.at(-1) ?? -1, 1);
  });

  it('draws nothing where a vessel stands empty', () => {
    const tun = model.staves.find((s) => s.vessel === 'tun');
    const begins = trace.moves.find((m) => m.id === 'in')?.startMin ?? 0;
    expect(tun?.stretches[0]?.timeMin[0]).toBeGreaterThanOrEqual(begins);
  });

  it('passes content along mash-in, pull and return, as long as they last', () => {
    expect(model.passes.map((p) => [p.from, p.to])).toEqual([
      ['kettle', 'tun'],
      ['tun', 'pot'],
      ['pot', 'tun'],
    ]);
    for (const pass of model.passes) {
      const done = trace.moves.find((m) => m.id === pass.moveId);
      expect([pass.startMin, pass.endMin]).toEqual([done?.startMin, done?.endMin]);
    }
  });

  it('becomes finite paths inside the sheet', () => {
    const sheet = sheetOf(model, {
      leftPx: 100,
      pxPerMin: 5,
      staveHeight: 96,
      staveGap: 16,
      fontPx: 14,
      namesAbove: false,
      startClockMin: 360,
    });
    const paths = sheet.staves.flatMap((s) => s.lines.map((l) => l.d));
    expect(paths.length).toBeGreaterThan(3);
    for (const d of paths) {
      expect(d).not.toMatch(/NaN|Infinity/);
      for (const [x, y] of [...d.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map((m) => [
        Number(m[1]),
        Number(m[2]),
      ])) {
        expect(x).toBeGreaterThanOrEqual(100);
        expect(x).toBeLessThanOrEqual(sheet.width);
        expect(y).toBeGreaterThanOrEqual(0);
        expect(y).toBeLessThanOrEqual(sheet.height);
      }
    }
  });
});

describe('a stave without content in view', () => {
  const layout = { leftPx: 100, pxPerMin: 5, staveHeight: 96, staveGap: 16, fontPx: 14 };
  const end = Math.max(...trace.moves.map((m) => m.endMin));

  it('is one that nothing stands in and nothing passes through then', () => {
    expect(emptyIn(model, model.fromMin, end)).toEqual([]);
    const mashedIn = trace.moves.find((m) => m.id === 'in')?.startMin ?? 0;
    expect(emptyIn(model, model.fromMin, mashedIn - 1)).toContain('tun');
  });

  it('is a line that gives its height to the page', () => {
    const open = sheetOf(model, { ...layout, namesAbove: false, startClockMin: 360 });
    const folded = new Set(['pot']);
    const sheet = sheetOf(model, { ...layout, namesAbove: false, startClockMin: 360, folded });
    const pot = sheet.staves.find((s) => s.vessel === 'pot');
    expect(pot).toMatchObject({ folded: true, lines: [], labels: [] });
    expect(sheet.height).toBeLessThan(open.height - 70);
    expect(sheet.height).toBe(heightOf(model, { ...layout, namesAbove: false, folded }));
  });
});

describe('labels', () => {
  it('never lie over one another and never leave the stave', () => {
    const within = { x0: 0, y0: 0, x1: 600, y1: 90 };
    const mark = fc.record({
      vessel: fc.constant('tun'),
      atMin: fc.constant(0),
      tempC: fc.constant(60),
      text: fc.constantFrom('63.2', 'boil 10 min', 'pull 38 L'),
      rank: fc.nat(6),
      strong: fc.boolean(),
      x: fc.integer({ min: 0, max: 600 }),
      y: fc.integer({ min: 0, max: 90 }),
    });
    fc.assert(
      fc.property(fc.array(mark, { maxLength: 25 }), (marks) => {
        const boxes = placeLabels(marks, [], within, 14).map((l) => {
          const x0 = l.anchor === 'start' ? l.x : l.x - l.wide;
          return { x0, x1: x0 + l.wide, y0: l.y - 11, y1: l.y + 2 };
        });
        for (const [i, a] of boxes.entries()) {
          expect(a.x0).toBeGreaterThanOrEqual(-1e-9 + within.x0 - 2);
          expect(a.x1).toBeLessThanOrEqual(within.x1 + 2);
          for (const b of boxes.slice(i + 1)) {
            const over = a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
            expect(over).toBe(false);
          }
        }
      }),
    );
  });
});

describe('thinning', () => {
  it('keeps the ends and the extremes of every pixel column', () => {
    const points = fc
      .array(
        fc.tuple(
          fc.double({ min: 0, max: 40, noNaN: true }),
          fc.double({ min: -50, max: 50, noNaN: true }),
        ),
        { minLength: 1, maxLength: 300 },
      )
      .map((list) => list.sort((a, b) => a[0] - b[0]));
    fc.assert(
      fc.property(points, (list) => {
        const kept = thin(list);
        expect(kept[0]).toEqual(list[0]);
        expect(kept.at(-1)).toEqual(list.at(-1));
        expect(Math.max(...kept.map((p) => p[1]))).toBe(Math.max(...list.map((p) => p[1])));
        expect(Math.min(...kept.map((p) => p[1]))).toBe(Math.min(...list.map((p) => p[1])));
        expect(kept.length).toBeLessThanOrEqual(41 * 4);
      }),
    );
  });
});

describe('clock ticks', () => {
  it('stand on round times of day and far enough apart', () => {
    const ticks = clockTicks(0, 300, 367, 2);
    expect(ticks.every((t) => (t.minute + 367) % 60 === 0)).toBe(true);
    expect(
      clockTicks(0, 60, 360, 20)
        .map((t) => t.minute)
        .slice(0, 3),
    ).toEqual([0, 5, 10]);
  });
});
