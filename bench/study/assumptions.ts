/**
 * What the sources leave open, varied: how far an assumption of ours, not the kinetics, decides a
 * row. Prints the last tables of docs/science/mash-open-questions.md; some seconds.
 *
 * `npx tsx bench/study/assumptions.ts`
 */
import {
  DEXTRIN_MALT,
  type MashParameters,
  RECOMMENDED_PARAMETERS,
  STANDARD_MALT,
  startMash,
} from '../../packages/brewhouse/src/mash/index.ts';
import { mashResults } from '../../packages/brewhouse/src/mash/results.ts';
import * as run from '../../packages/brewhouse/src/mash/validation-runs.ts';
import { candidateMash, NOTHING_ADDED } from './candidate.ts';

const recommended = run.shippedMash(RECOMMENDED_PARAMETERS);
const slowed = candidateMash(RECOMMENDED_PARAMETERS, {
  ...NOTHING_ADDED,
  crowding: 0.2,
  crowdingLaw: 'bounded',
});
const line = (cells: readonly (string | number)[]) => console.log(`| ${cells.join(' | ')} |`);
function table(headers: readonly string[], rows: readonly (readonly (string | number)[])[]): void {
  line(headers);
  line(headers.map(() => '---'));
  for (const row of rows) line(row);
  console.log();
}

const GRIST = [
  { malt: STANDARD_MALT, massKg: 0.9 },
  { malt: DEXTRIN_MALT, massKg: 0.1 },
];
const attenuation = (p: MashParameters, tempC: number, minutes: number) => {
  const m = run.shippedMash(p);
  const { state, brought } = startMash(GRIST, 3, p);
  m.advance(state, [
    [0, tempC],
    [minutes, tempC],
  ]);
  return mashResults(state, brought, p).limitApparentPct.toFixed(1);
};
table(
  ['mash time [min]', '65 °C (82)', '70 °C (70)', '80 °C (30)'],
  [30, 45, 60, 90, 120].map((minutes) => [
    minutes,
    ...[65, 70, 80].map((T) => attenuation(RECOMMENDED_PARAMETERS, T, minutes)),
  ]),
);

const sugars = (m: run.MashModel, liquorKg: number, restC: number, minutes: number) => {
  const { state, brought } = startMash(
    [{ malt: STANDARD_MALT, massKg: 1 }],
    liquorKg,
    m.parameters,
    m.options,
  );
  const up = 72 - restC;
  m.advance(state, [
    [0, restC],
    [minutes, restC],
    [minutes + up, 72],
    [minutes + up + 20, 72],
    [minutes + up + 26, 78],
    [minutes + up + 31, 78],
  ]);
  const r = mashResults(state, brought, m.parameters);
  const { hG, hM, hT } = m.parameters;
  const asStarch = r.glucoseKg / hG + r.maltoseKg / hM + r.maltotrioseKg / hT;
  return (100 * asStarch) / brought.starchKg;
};
const profiles: [string, number, number][] = [
  ['62 °C for 45 min (assumed)', 62, 45],
  ['62 °C for 20 min', 62, 20],
  ['62 °C for 10 min', 62, 10],
  ['55 °C for 30 min', 55, 30],
  ['45 °C for 30 min', 45, 30],
  ['65 °C for 60 min', 65, 60],
];
table(
  ['rest before 72 and 78 °C', '6 kg/kg (79)', '2.5 kg/kg (66)', 'slowed: 6', 'slowed: 2.5'],
  profiles.map(([name, restC, minutes]) => [
    name,
    ...[recommended, slowed].flatMap((m) =>
      [6, 2.5].map((r) => sugars(m, r, restC, minutes).toFixed(1)),
    ),
  ]),
);

const ratios = [2, 2.5, 3, 4, 5, 6, 8, 11.5];
table(
  ['limit of an hour at 65 °C [%], kg/kg', ...ratios.map(String)],
  [
    ['recommended', ...ratios.map((r) => run.hour(recommended, 65, r).limitApparentPct.toFixed(1))],
    [
      'slowed by extract',
      ...ratios.map((r) => run.hour(slowed, 65, r).limitApparentPct.toFixed(1)),
    ],
  ],
);

const pulls = (m: run.MashModel) => {
  const [none, one, two] = ([0, 1, 2] as const).map((n) => run.limitOfPulls(m, n));
  return [none!, one! - none!, two! - none!].map((x) => x.toFixed(2));
};
table(
  ['limit [%]', 'infusion', 'one pull more', 'two pulls more'],
  [
    ['recommended', ...pulls(recommended)],
    ['slowed by extract', ...pulls(slowed)],
  ],
);

const rises = ([5, 15, 20, 25, 30] as const).map((first) => [
  first,
  ...[0.12, 0.44].flatMap((kdis) => {
    const m = run.shippedMash({ ...RECOMMENDED_PARAMETERS, kdis });
    const from = run.congress(m, first).wortExtractPct;
    return [m, { ...m, laboratoryAddKg: 2 }].map((each) =>
      (100 * (run.congress(each, 55).wortExtractPct / from - 1)).toFixed(0),
    );
  }),
]);
table(
  [
    'first sample [min]',
    'brewery grist, no water',
    'with water',
    'fine grist, no water',
    'with water',
  ],
  rises,
);
