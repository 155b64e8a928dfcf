/** The way from the mash to the pitched wort, on the plan's page. */
import { SALTS } from '@ladlework/matter';
import type { WishLine, WortPlan } from '@ladlework/planner';
import {
  type Band,
  format,
  formatBand,
  formatDuration,
  sentenceIn,
  type UnitPair,
} from '@ladlework/quantity';
import { columns } from '../output.ts';

const STAGE = {
  'kettle-full': 'kettle-full',
  'cast-out': 'cast-out',
  'knock-out': 'to cooler',
  tank: 'tank',
} as const;

const WISH: Readonly<Record<WishLine['what'], string>> = {
  'tank-litres': 'in the tank',
  extract: 'extract',
  colour: 'colour',
  bitterness: 'bitterness',
  attenuation: 'limit',
  'mash-ph': 'mash pH',
  liquor: 'liquor',
};

/** "11.3–11.6–12.0"; one number where all three are the same. */
function three(band: Band, digits: number): string {
  const [low, likely, high] = [band.low, band.likely, band.high].map((x) => x.toFixed(digits));
  return low === high ? `${likely}` : `${low}–${likely}–${high}`;
}

/**
 * What the plan says of run-off, boil, knock-out and tank; when each is, the whole day says.
 *
 * @param wort from the plan
 * @param pair the brewer's units
 */
export function wortText(wort: WortPlan, pair: UnitPair): string {
  return [
    stages(wort, pair),
    liquor(wort, pair),
    runOff(wort, pair),
    boil(wort, pair),
    knockOut(wort, pair),
    wishes(wort, pair),
    remarks(wort, pair),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

function stages(wort: WortPlan, pair: UnitPair): string {
  const rows = wort.stages.map((s) => [
    STAGE[s.stage],
    formatBand('volume', s.coldL, pair),
    `${three(s.plato, 1)} °P`,
    formatBand('mass', s.extractKg, pair),
    s.stage === 'kettle-full' ? '' : `${formatBand('mass', s.lostKg, pair)} left behind`,
  ]);
  const table = columns([['', 'cold', 'strength', 'extract', ''], ...rows], '  ');
  return `From the mash to the tank\n${table}`;
}

function liquor(wort: WortPlan, pair: UnitPair): string {
  const plan = wort.liquor;
  if (plan === undefined) return '';
  const doses = plan.salts.doses.map((d) => `${d.grams.toFixed(0)} g ${SALTS[d.salt].name}`);
  const rows = [
    [
      'mash and sparge',
      `${format('volume', plan.mashL, pair)} and ${format('volume', plan.spargeL, pair)}`,
    ],
    ['salts', doses.length > 0 ? doses.join(', ') : 'none'],
    ...(plan.salts.dilute > 0
      ? [['second liquor', `${Math.round(100 * plan.salts.dilute)} % of the whole`]]
      : []),
    ['mash pH', mashPh(plan.mashPh)],
    [
      'sparge pH',
      `${plan.sparge.toPh.toFixed(1)} by ${plan.sparge.acidML.toFixed(0)} mL of the acid`,
    ],
    ...(plan.doubt === undefined ? [] : [['report', sentenceIn(plan.doubt, pair)]]),
  ];
  return `Liquor\n${columns(rows, '  ')}`;
}

function mashPh(ph: NonNullable<WortPlan['liquor']>['mashPh']): string {
  const after = `; ${three(ph.afterDecoctions, 2)} once all is back`;
  return ph.acidML > 0
    ? `${three(ph.withoutAcid, 2)} as it stands, ${three(ph.ph, 2)} with ${ph.acidML.toFixed(0)} mL of acid${after}`
    : `${three(ph.withoutAcid, 2)}${after}`;
}

function runOff(wort: WortPlan, pair: UnitPair): string {
  const { lauter } = wort;
  const along = lauter.course.filter((_, i) => i > 0 && i % 3 === 0);
  const rows = [
    [
      'takes',
      `${formatDuration(lauter.minutes.likely)} at ${format('volume', lauter.flowLMin, pair)} a minute`,
    ],
    ['first wort', `${three(lauter.firstPlato, 1)} °P`],
    ...along.map((c) => [
      `at ${format('volume', c.collectedL, pair)}`,
      `kettle ${three(c.kettlePlato, 1)} °P, tap ${three(c.tapPlato, 1)} °P`,
    ]),
    ...(lauter.by === 'continuous'
      ? [
          [
            'shut the sparge',
            `at ${formatBand('volume', lauter.shutAtL, pair)} in the kettle; ${formatBand('volume', lauter.spargeL, pair)} of liquor in all`,
          ],
        ]
      : []),
    ...(lauter.fillsL === undefined || lauter.fillsL.length < 2
      ? []
      : [
          [
            'fillings',
            lauter.fillsL
              .slice(1)
              .map((l) => format('volume', l, pair))
              .join(', '),
          ],
        ]),
    [
      'full',
      `${format('volume', lauter.kettleL, pair)} at ${format('temperature', lauter.readC, pair)}; the beer wants ${lauter.targetPlato.toFixed(1)} °P there`,
    ],
  ];
  return `Run-off\n${columns(rows, '  ')}`;
}

function boil(wort: WortPlan, pair: UnitPair): string {
  const { boil } = wort;
  const castOut = wort.stages[1];
  const hops = boil.hops.map((h) => [
    h.boilMin === 'stand' ? 'hops, stand' : `hops, ${h.boilMin} min`,
    `${format('mass', h.kg, pair)} ${h.name} at ${h.alphaPct.toFixed(1)} % alpha: ${h.ibu.toFixed(1)} mg/L`,
  ]);
  const rows = [
    [
      'boil',
      `${formatDuration(boil.minutes)} at ${format('temperature', boil.boilC, pair)} in ${boil.vessel}, ${formatBand('mass', boil.evaporationKgH, pair)} an hour off; ${(100 * boil.headspace.likely).toFixed(0)} % of it free when it comes over`,
    ],
    ...hops,
    ...(castOut?.ibu === undefined || hops.length === 0
      ? []
      : [['bitterness', `${three(castOut.ibu, 0)} mg/L`]]),
    ...(castOut?.colourEbc === undefined ? [] : [['colour', `${three(castOut.colourEbc, 1)} EBC`]]),
    ...(castOut?.freeDmsUgL === undefined
      ? []
      : [['DMS', `${three(castOut.freeDmsUgL, 0)} µg/L when the wort is cold`]]),
  ];
  return `Boil\n${columns(rows, '  ')}`;
}

function knockOut(wort: WortPlan, pair: UnitPair): string {
  const { knockOut: k, pitch, beer } = wort;
  const rows = [
    [
      'cooling',
      `${formatBand('duration', k.minutes, pair)} to ${format('temperature', k.toC, pair)} with liquor at ${format('temperature', k.liquorInC, pair)}; ${formatBand('volume', k.wortLMin, pair)} a minute, ${formatBand('volume', k.liquorL, pair)} of liquor`,
    ],
    ...(pitch === undefined
      ? []
      : [
          [
            'yeast',
            `${format('volume', pitch.slurryL, pair)} of slurry, ${pitch.millionPerML.toFixed(0)} million/mL`,
          ],
          [
            'oxygen',
            `${pitch.oxygenG.toFixed(1)} g; air reaches ${pitch.airReachesMgL.toFixed(1)} mg/L${pitch.needsPureOxygen ? ', so it takes oxygen' : ''}`,
          ],
          ...(pitch.starter ?? []).map((s, i) => [
            `starter ${i + 1}`,
            `${format('volume', s.volumeL, pair)}, ready after ${s.endsAfterH.toFixed(0)} h`,
          ]),
        ]),
    ...(beer === undefined
      ? []
      : [
          [
            'beer',
            `${three(beer.abvPct, 1)} % by volume at its limit, ${three(beer.endPlato, 1)} °P apparent`,
          ],
        ]),
  ];
  return `Knock-out and tank\n${columns(rows, '  ')}`;
}

function wishes(wort: WortPlan, pair: UnitPair): string {
  if (wort.wishes.length === 0) return '';
  const value = (w: WishLine, x: number) =>
    w.unit === 'L' ? format('volume', x, pair) : `${x.toFixed(w.unit === 'pH' ? 2 : 1)} ${w.unit}`;
  const rows = wort.wishes.map((w) => [
    WISH[w.what],
    value(w, w.wanted),
    w.what === 'tank-litres'
      ? formatBand('volume', w.got, pair)
      : `${three(w.got, w.unit === 'pH' ? 2 : 1)}`,
    w.met ? 'met' : `missed. ${sentenceIn(w.mend ?? '', pair)}`.trim(),
  ]);
  return `The beer wanted\n${columns([['', 'wanted', 'comes', ''], ...rows], '  ')}`;
}

function remarks(wort: WortPlan, pair: UnitPair): string {
  const caution = wort.boil.dmsCaution === undefined ? [] : [wort.boil.dmsCaution];
  const yeast = wort.pitch?.cautions ?? [];
  const lines = [
    ...[...wort.notes, ...caution, ...yeast].map((n) => `  ${sentenceIn(n, pair)}`),
    ...wort.assumed.map((n) => `  Assumed: ${sentenceIn(n, pair)}`),
  ];
  return lines.length === 0 ? '' : `On the wort\n${lines.join('\n')}`;
}
