import type { Say } from '@ladlework/brewhouse';
import type { MashBand, MashFigure } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { heightOf, type Layout, sheetOf } from './geometry.ts';
import { lanesFor } from './mash-lanes.ts';
import type { ScoreModel } from './model.ts';

const say: Say = {
  temp: String,
  volume: String,
  mass: (kg) => `${kg.toFixed(0)} kg`,
  minutes: String,
  ratio: String,
};

/** A stand of mash whose figures run from one value to another, ten percent of doubt either way. */
function stand(vessel: string, fromMin: number, values: Partial<Record<MashFigure, number[]>>) {
  const timeMin = [fromMin, fromMin + 30, fromMin + 60];
  const figure = (name: MashFigure) => {
    const likely = values[name] ?? [0, 0, 0];
    return { likely, low: likely.map((v) => 0.9 * v), high: likely.map((v) => 1.1 * v) };
  };
  const figures: MashBand['figures'] = {
    extractKg: figure('extractKg'),
    fermentableShare: figure('fermentableShare'),
    starchRaw: figure('starchRaw'),
    starchOpen: figure('starchOpen'),
    alphaLeft: figure('alphaLeft'),
    betaLeft: figure('betaLeft'),
  };
  return { vessel, timeMin, figures };
}

const bands = [
  stand('tun', 20, {
    extractKg: [10, 40, 50],
    alphaLeft: [1, 0.8, 0.5],
    betaLeft: [1, 0.5, 0.06],
    starchRaw: [0.6, 0.1, 0.02],
    fermentableShare: [0.5, 0.6, 0.65],
  }),
  stand('pot', 50, { extractKg: [20, 24, 25] }),
  stand('pot', 150, { extractKg: [10, 11, 12] }),
];

describe('the mash under a stave', () => {
  it('is four plots, each of two lines with its name and what is left of it', () => {
    const lanes = lanesFor('tun', bands, say);
    expect(lanes.map((l) => l.name)).toEqual(['Starch', 'Extract', 'Fermentable', 'Enzymes']);
    expect(lanes.map((l) => l.marks.map((m) => m.text))).toEqual([
      ['in the grain 2 %, opened 0 %', 'in the grain', 'opened'],
      ['50 kg'],
      ['65 %'],
      ['alpha 50 %, beta 6 %', 'alpha', 'beta'],
    ]);
    // Never by colour alone: the second line of a plot is dashed.
    expect(lanes[3]?.lines.map((x) => x.dashed)).toEqual([false, true]);
  });

  it('shares one scale for extract, so that vessels compare, and draws every stand', () => {
    const [tun, pot] = [lanesFor('tun', bands, say)[1], lanesFor('pot', bands, say)[1]];
    expect(tun?.most).toBeCloseTo(55);
    expect(pot?.most).toBe(tun?.most);
    expect(pot?.lines.length).toBe(2);
    expect(lanesFor('kettle', bands, say)).toEqual([]);
  });

  it('makes the sheet taller only when it is asked for, and stays inside it', () => {
    const stave = (vessel: string) => ({
      vessel,
      name: vessel,
      stretches: [{ matter: 'mash' as const, timeMin: [20, 200], tempC: [60, 70] }],
      band: undefined,
      fires: [],
      lowC: 50,
      highC: 80,
      lanes: lanesFor(vessel, bands, say),
    });
    const model: ScoreModel = {
      staves: [stave('tun'), stave('pot')],
      passes: [],
      marks: [],
      hands: [{ hand: 'B', name: 'Brewer' }],
      busy: [],
      fromMin: 0,
      toMin: 240,
    };
    const layout: Layout = {
      leftPx: 104,
      pxPerMin: 4,
      staveHeight: 90,
      staveGap: 12,
      fontPx: 14,
      namesAbove: false,
      startClockMin: 360,
    };
    const off = sheetOf(model, layout);
    const on = sheetOf(model, { ...layout, lanes: true });
    expect(off.staves.every((s) => s.lanes.length === 0)).toBe(true);
    expect(on.height).toBeGreaterThan(off.height + 200);
    expect(on.height).toBe(heightOf(model, { ...layout, lanes: true }));
    const [tun, pot] = on.staves;
    for (const lane of tun?.lanes ?? []) {
      expect(lane.top).toBeGreaterThan(tun?.base ?? 0);
      expect(lane.base).toBeLessThan(pot?.top ?? 0);
      for (const label of lane.labels) {
        expect(label.y).toBeGreaterThan(lane.top - 10);
        expect(label.y).toBeLessThan(lane.base + 4);
      }
    }
    expect(tun?.lanes[3]?.labels.map((l) => l.text)).toContain('alpha 50 %, beta 6 %');
  });
});
