import {
  drawMashParameters,
  MASH_DRAW_DIMS,
  PLAIN_PARAMETERS,
  RECOMMENDED_PARAMETERS,
  structuralLimitSd,
} from '@ladlework/brewhouse';
import { drawMatrix, quantile } from '@ladlework/numerics';
import {
  LONG_THICK_STAND,
  measuredRow,
} from '../../packages/brewhouse/src/mash/validation-rows.ts';
import * as run from '../../packages/brewhouse/src/mash/validation-runs.ts';
import { type Chart, INK, type Label, type Mark } from './chart.ts';

/** Draws of the parameters for a band, and the seed they come from. */
const DRAWS = 40;
const SEED = 20;

const plain = run.shippedMash(PLAIN_PARAMETERS);
const recommended = run.shippedMash(RECOMMENDED_PARAMETERS);

const range = (from: number, to: number, step: number) =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);
const curve = (xs: readonly number[], f: (x: number) => number) =>
  xs.map((x): [number, number] => [x, f(x)]);

/** A measured row as a point, or as a bar where the source gives a span. */
function measured(id: string, x: number, scale: number, label: Omit<Label, 'at'>): Mark {
  const { low, high, sd } = measuredRow(id);
  const colour = INK.measured;
  if (low === high) {
    const at: [number, number] = [x, scale * low];
    return { kind: 'point', at, sd: scale * sd, colour, label: { ...label, at } };
  }
  const at: [number, number] = [x, scale * high];
  return { kind: 'span', x, low: scale * low, high: scale * high, colour, label: { ...label, at } };
}

function attenuation(): Chart {
  const temps = range(60, 80, 1);
  const normals = drawMatrix(DRAWS, MASH_DRAW_DIMS, SEED);
  const drawn = Array.from({ length: DRAWS }, (_, i) =>
    run.shippedMash(
      drawMashParameters(RECOMMENDED_PARAMETERS, normals, { from: i * MASH_DRAW_DIMS }),
    ),
  );
  const low: [number, number][] = [];
  const high: [number, number][] = [];
  for (const T of temps) {
    const limits = drawn.map((m) => run.chandrasekhar(m, T));
    // One sd of the draws and the model's own error, which are independent.
    const spread = (quantile(limits, 0.84) - quantile(limits, 0.16)) / 2;
    const sd = Math.hypot(spread, structuralLimitSd(T));
    const middle = run.chandrasekhar(recommended, T);
    low.push([T, middle - sd]);
    high.push([T, middle + sd]);
  }
  return {
    title: 'Apparent limit of attenuation against mash temperature',
    says: 'One temperature for 60 min, 3 kg/kg, a tenth of the grist dextrin malt. The fit saw these points.',
    x: { label: 'mash temperature [°C]', from: 60, to: 80, ticks: range(60, 80, 5) },
    y: { label: 'apparent limit [%]', from: 10, to: 100, ticks: range(20, 100, 20) },
    marks: [
      {
        kind: 'band',
        low,
        high,
        colour: INK.first,
        opacity: 0.16,
        label: { text: 'shown to a brewer: ± 1 sd, malt unknown', at: [60, 58], dx: 12 },
      },
      {
        kind: 'line',
        points: curve(range(60, 80, 0.5), (T) => run.chandrasekhar(recommended, T)),
        colour: INK.first,
        label: { text: 'model', at: [74.3, run.chandrasekhar(recommended, 74.3)], dx: 8, dy: -2 },
      },
      measured('AAT-65', 65, 1, { text: 'measured, ± 1 sd (Chandrasekhar)', dx: 10, dy: -14 }),
      measured('AAT-70', 70, 1, { text: '70', dx: 10, dy: -6 }),
      measured('AAT-80', 80, 1, { text: '30', dx: -10, dy: -10, anchor: 'end' }),
    ],
  };
}

function extraction(): Chart {
  const concentrations = range(10, 50, 1);
  const liquor = (pct: number) => 100 / pct - 1;
  const opened = (m: run.MashModel, tempC: number, minutes: number) =>
    curve(concentrations, (pct) => run.opened(run.stand(m, tempC, minutes, liquor(pct))));
  const pair = (
    tempC: number,
    minutes: number,
    colour: string,
    text: string,
    dy: number,
  ): Mark[] => {
    const points = opened(recommended, tempC, minutes);
    return [
      { kind: 'line', points: opened(plain, tempC, minutes), colour, dashed: true },
      {
        kind: 'line',
        points,
        colour,
        label: { text, at: points.at(-1)!, dx: 8, dy },
      },
    ];
  };
  const long = LONG_THICK_STAND;
  const longAt: [number, number] = [100 / (1 + long.liquorKg), long.openedPct];
  const atLeast = (id: string, pct: number, label: Omit<Label, 'at'>): Mark => {
    const row = measuredRow(id);
    return {
      kind: 'span',
      x: pct,
      low: row.low,
      high: row.high,
      colour: INK.measured,
      label: { ...label, at: [pct, row.high] },
    };
  };
  return {
    title: 'Starch opened, by time and mash concentration',
    says: 'Solid: recommended set; dashed: plain. Black: measured, at the thickest mash (Harris & MacWilliam 1961).',
    x: {
      label: 'mash concentration [kg malt in 100 kg mash]',
      from: 10,
      to: 60,
      ticks: range(10, 50, 10),
    },
    y: { label: 'starch opened [%]', from: 60, to: 106, ticks: range(60, 100, 10) },
    marks: [
      ...pair(65.5, 180, INK.third, '3 h at 65.5 °C', 2),
      ...pair(65.5, 60, INK.first, '1 h at 65.5 °C', 4),
      ...pair(62.7, 180, INK.second, '3 h at 62.7 °C', 10),
      atLeast('HM-1', 42, { text: '65.5 °C, 1 h', dx: 0, dy: -10, anchor: 'middle' }),
      atLeast('HM-3', 33, { text: '62.7 °C, 3 h', dx: 0, dy: -10, anchor: 'middle' }),
      {
        kind: 'point',
        at: longAt,
        sd: long.sdPct,
        colour: INK.measured,
        label: {
          text: '65.5 °C, 3 h',
          at: longAt,
          dx: 0,
          dy: -32,
          anchor: 'middle',
        },
      },
    ],
  };
}

function survival(): Chart {
  const minutes = range(0, 120, 2);
  const left = (tempC: number, liquorKg: number, of: 'alphaLeft' | 'betaLeft') =>
    curve(minutes, (t) => 100 * run.stand(recommended, tempC, t, liquorKg)[of]);
  const atSixtyFive = left(65, 2.5, 'betaLeft');
  const line = (
    points: [number, number][],
    colour: string,
    text: string,
    at: number,
    dy: number,
    dashed = false,
  ): Mark => ({
    kind: 'line',
    points,
    colour,
    dashed,
    label: { text, at: points[at]!, dx: 8, dy },
  });
  return {
    title: 'Enzyme left while the mash stands',
    says: 'At 65 °C in a thick mash the model holds; beta-amylase in sugar solution at 63 °C outlives it by far.',
    x: { label: 'time [min]', from: 0, to: 124, ticks: range(0, 120, 20) },
    y: {
      label: 'enzyme left [% of what the malt brought]',
      from: 0,
      to: 104,
      ticks: range(0, 100, 20),
    },
    marks: [
      line(left(65, 2.5, 'alphaLeft'), INK.second, 'alpha-amylase, 65 °C, 2.5 kg/kg', 34, -6),
      {
        kind: 'line',
        points: atSixtyFive,
        colour: INK.first,
        label: { text: 'beta, 65 °C', at: atSixtyFive[10]!, dx: -8, dy: 4, anchor: 'end' },
      },
      line(left(63, 3, 'betaLeft'), INK.third, 'beta-amylase, 63 °C, 3 kg/kg', 14, -6, true),
      measured('MU-b10', 10, 100, { text: 'half', dx: 8, dy: -12 }),
      measured('MU-b60', 60, 100, { text: 'measured (Muller 1990)', dx: 10, dy: -12 }),
      measured('MU-a60', 60, 100, { text: 'alpha: more than half', dx: 8, dy: 60 }),
      measured('HD-63', 120, 100, {
        text: 'Henson & Duke 2016, 63 °C: not met',
        dx: -10,
        dy: 14,
        anchor: 'end',
      }),
    ],
  };
}

function decoction(): Chart {
  const ids = ['ZI-X1', 'ZI-X2', 'ZI-X3'];
  const coarse = run.shippedMash({ ...PLAIN_PARAMETERS, kc: 0.022 }, { coarseShare: 0.92 });
  const shares = (of: readonly number[]) =>
    of.map((share, i): [number, number] => [i + 1, 100 * share]);
  const points = (of: [number, number][], colour: string, text: string, dy: number): Mark[] => [
    { kind: 'line', points: of, colour, dashed: true },
    ...of.map(
      (at, i): Mark => ({
        kind: 'point',
        at,
        colour,
        open: true,
        ...(i === 0 ? { label: { text, at, dx: 14, dy } } : {}),
      }),
    ),
  ];
  return {
    title: 'A decoction of the 1840s: extract after each pull',
    says: 'Share of the final extract (trial of Zierl). Modern grist gives it up too soon.',
    x: {
      label: 'after',
      from: 0.6,
      to: 3.4,
      ticks: [1, 2, 3],
      text: (i) => ['', 'first thick boil', 'second thick boil', 'clear boil'][i] ?? '',
    },
    y: { label: 'extract, % of the final', from: 20, to: 106, ticks: range(20, 100, 20) },
    marks: [
      ...points(shares(run.zierl(recommended, 15)), INK.second, 'model, modern grist', 18),
      ...points(shares(run.zierl(coarse, 0)), INK.first, 'model with option C, 0.92 coarse', 4),
      ...ids.map((id, i) =>
        measured(id, i + 1, 100, {
          text: i === 0 ? 'measured' : '',
          dx: -10,
          dy: -8,
          anchor: 'end',
        }),
      ),
    ],
  };
}

function thickness(): Chart {
  const ratios = range(2, 6.5, 0.25);
  const points = curve(ratios, (r) => run.deSchepper(recommended, r));
  return {
    title: 'Sugar yield against mash thickness: an open question',
    says: 'The model has the wrong sign here; no figure on this page may promise an effect of thickness.',
    x: { label: 'liquor [kg per kg malt]', from: 2, to: 6.5, ticks: range(2, 6, 1) },
    y: { label: 'sugars, % of the starch', from: 60, to: 84, ticks: range(60, 80, 5) },
    marks: [
      {
        kind: 'line',
        points,
        colour: INK.first,
        label: { text: 'model', at: points[7]!, dy: -10 },
      },
      measured('DS-25', 2.5, 1, {
        text: 'measured 66 (De Schepper & Courtin 2022)',
        dx: 12,
        dy: 5,
      }),
      measured('DS-6', 6, 1, { text: 'measured 79', dx: -12, dy: 5, anchor: 'end' }),
    ],
  };
}

function quickMash(): Chart {
  const temps = range(55, 66, 0.5);
  const fine = run.shippedMash({ ...RECOMMENDED_PARAMETERS, kdis: 0.44 });
  const share = (m: run.MashModel) => curve(temps, (T) => 100 * run.rittenauer(m, T));
  const asMilled = share(recommended);
  const finely = share(fine);
  return {
    title: 'Sugar of ten minutes against that of an hour at 65 °C',
    says: 'Micro-mashes, 4 kg/kg. Bars across: the span of temperatures the source gives.',
    x: { label: 'mash temperature [°C]', from: 55, to: 66, ticks: range(56, 66, 2) },
    y: {
      label: 'sugar yield [% of an hour at 65 °C]',
      from: 20,
      to: 106,
      ticks: range(20, 100, 20),
    },
    marks: [
      {
        kind: 'line',
        points: asMilled,
        colour: INK.first,
        label: { text: 'model, brewery grist', at: asMilled[18]!, dx: -60, dy: 24 },
      },
      {
        kind: 'line',
        points: finely,
        colour: INK.second,
        dashed: true,
        label: {
          text: 'model, fine laboratory grist',
          at: finely[10]!,
          dx: -10,
          dy: -6,
          anchor: 'end',
        },
      },
      ...[[57.5, 59.8, 'RI-61'] as const, [61.4, 64.5, 'RI-97'] as const].map(
        ([from, to, id]): Mark => {
          const level = 100 * measuredRow(id).low;
          return {
            kind: 'line',
            points: [
              [from, level],
              [to, level],
            ],
            colour: INK.measured,
          };
        },
      ),
      measured('RI-61', 58.65, 100, { text: 'measured (Rittenauer et al. 2021)', dx: 56, dy: 5 }),
      measured('RI-97', 63, 100, { text: '', dx: 0 }),
    ],
  };
}

/** The plots of docs/science/mash.md, by file name. */
export function mashPlots(): ReadonlyMap<string, Chart> {
  return new Map([
    ['mash-attenuation.svg', attenuation()],
    ['mash-extraction.svg', extraction()],
    ['mash-quick.svg', quickMash()],
    ['mash-survival.svg', survival()],
    ['mash-thickness.svg', thickness()],
    ['mash-decoction.svg', decoction()],
  ]);
}
