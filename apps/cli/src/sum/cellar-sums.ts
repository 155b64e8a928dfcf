/** Liquor treatment, coolers and yeast. */
import {
  coilRun,
  pitching,
  plateRun,
  plateUa,
  type ShelfSalt,
  saltsForTarget,
  starterSteps,
  treatSparge,
  wortOf,
} from '@ladlework/brewhouse';
import {
  ACIDS,
  type Acid,
  DISTILLED,
  ionBalance,
  oxygenSaturation,
  SALTS,
  type SaltName,
  standardPressure,
  type WaterReport,
} from '@ladlework/matter';
import { fail, ok, type Result } from '@ladlework/quantity';
import { choice, extract, number, quantity, temperature, usually, written } from './argument.ts';
import { defineSum, numbers, result, type Sum } from './sum.ts';

/** Short names of the fields of a water report. */
const IONS: Readonly<Record<string, keyof WaterReport>> = {
  ca: 'calciumMgL',
  mg: 'magnesiumMgL',
  na: 'sodiumMgL',
  k: 'potassiumMgL',
  cl: 'chlorideMgL',
  so4: 'sulphateMgL',
  no3: 'nitrateMgL',
  alk: 'alkalinityMgLCaCO3',
  ph: 'ph',
};

/** "ca:52,mg:12,alk:130,ph:7.4": mg/L, alkalinity as CaCO3. */
function readIons(text: string): Result<Partial<WaterReport>, string> {
  const found: Record<string, number> = {};
  for (const part of text.split(',')) {
    const [name = '', value = ''] = part.split(':');
    const field = IONS[name.trim().toLowerCase()];
    const x = Number(value);
    if (field === undefined || value.trim() === '' || !(x >= 0 && x <= 2000))
      return fail(
        `holds "${part.trim().slice(0, 40)}", which is not an ion, a colon and 0 to 2000`,
      );
    found[field] = x;
  }
  return ok(found);
}

/** "gypsum,calciumChloride". */
function readSalts(text: string): Result<ShelfSalt[], string> {
  const known = Object.keys(SALTS) as SaltName[];
  const salts: ShelfSalt[] = [];
  for (const part of text.split(',')) {
    const salt = known.find((name) => name.toLowerCase() === part.trim().toLowerCase());
    if (salt === undefined)
      return fail(`holds "${part.trim().slice(0, 40)}", which is no salt here`);
    salts.push({ salt });
  }
  return ok(salts);
}

const ACID_NAMES = Object.keys(ACIDS) as Acid[];
const acid = () => usually(choice(ACID_NAMES, 'acid as it is sold'), 'lactic88');

const SALT_RESULTS = {
  gypsum: 'gypsum_g',
  calciumChloride: 'calcium_chloride_g',
  calciumChlorideAnhydrous: 'calcium_chloride_anhydrous_g',
  epsomSalt: 'epsom_salt_g',
  magnesiumChloride: 'magnesium_chloride_g',
  commonSalt: 'common_salt_g',
  bakingSoda: 'baking_soda_g',
  chalk: 'chalk_g',
  slakedLime: 'slaked_lime_g',
} as const satisfies Readonly<Record<SaltName, string>>;

const cooled = {
  wort_L: quantity('volume', 'L', 0.1, 1e6, 'cold wort'),
  plato: usually(extract('plato', 0, 40, 'extract'), '12'),
  from_C: usually(temperature(40, 105, 'wort before'), '94'),
  to_C: temperature(2, 40, 'wort wanted'),
  liquor_in_C: temperature(0, 40, 'cold liquor'),
  liquor_L_min: number('L/min', 0.1, 1e4, 'flow of cold liquor'),
  ua_W_K: number('W/K', 10, 1e6, 'heat transfer of the cooler'),
};

export const CELLAR_SUMS: readonly Sum[] = [
  defineSum({
    name: 'ion-balance',
    what: 'whether a water report can be true',
    arguments: {
      report: written(
        'water report',
        'ion:mg/L joined by commas, as ca:52,mg:12,na:18,cl:24,so4:45,alk:130,ph:7.4',
        readIons,
      ),
    },
    results: {
      cations_mEq_L: result('mEq/L', 3, 'cations'),
      anions_mEq_L: result('mEq/L', 3, 'anions'),
      difference_pct: result('%', 2, 'of the sum'),
      allowed_mEq_L: result('mEq/L', 3, 'difference allowed'),
      believable: result('', 0, '1 when it can be true, 0 when not'),
    },
    equation: '100 (C - A)/(C + A)',
    source: 'Standard Methods 1030E (from memory): 0.2 mEq/L, 2 % from 3, 5 % from 10 mEq/L',
    example: 'report=ca:52,mg:12,na:18,k:2,cl:24,so4:45,alk:130.4,no3:4,ph:7.4',
    answer: ({ report }) => {
      const b = ionBalance({ ...DISTILLED, ...report });
      return numbers({
        cations_mEq_L: b.cationsMEqL,
        anions_mEq_L: b.anionsMEqL,
        difference_pct: b.differencePct,
        allowed_mEq_L: b.allowedMEqL,
        believable: b.believable ? 1 : 0,
      });
    },
  }),
  defineSum({
    name: 'salts',
    what: 'salts that bring liquor nearest to a target',
    arguments: {
      litres: quantity('volume', 'L', 0.1, 1e6, 'liquor in all'),
      report: written(
        'liquor as it is',
        'ion:mg/L joined by commas, as ca:52,mg:12,so4:45,alk:130',
        readIons,
      ),
      target: written('ions wanted', 'the same, as ca:80,cl:60', readIons),
      shelf: usually(
        written('salts at hand', `joined by commas: ${Object.keys(SALTS).join(', ')}`, readSalts),
        'gypsum,calciumChloride',
      ),
    },
    results: {
      ...Object.fromEntries(
        Object.entries(SALT_RESULTS).map(([salt, name]) => [
          name,
          result('g', 1, SALTS[salt as SaltName].formula),
        ]),
      ),
      worst_miss_mg_L: result('mg/L', 1, 'of the ions wanted, the one that misses most'),
    },
    equation: 'least squares of the misses in mEq/L, no dose below nothing or over 1 g/L',
    source: 'ions a gram from atomic masses',
    example: 'litres=550 report=ca:52,mg:12,na:18,cl:24,so4:45,alk:130,ph:7.4 target=ca:80,cl:60',
    answer: ({ litres, report, target, shelf }) => {
      const { ph: _ph, potassiumMgL: _k, nitrateMgL: _n, ...wanted } = target;
      const plan = saltsForTarget({
        report: { ...DISTILLED, ...report },
        litres,
        target: wanted,
        shelf,
      });
      const grams = Object.fromEntries(
        Object.entries(SALT_RESULTS).map(([salt, name]) => [
          name,
          plan.doses.find((d) => d.salt === salt)?.grams ?? 0,
        ]),
      );
      const worst = plan.misses.reduce((a, m) => (Math.abs(m.mgL) > Math.abs(a) ? m.mgL : a), 0);
      return numbers({ ...grams, worst_miss_mg_L: Math.abs(worst) < 0.05 ? 0 : worst });
    },
  }),
  defineSum({
    name: 'acid',
    what: 'acid for sparge liquor',
    arguments: {
      litres: quantity('volume', 'L', 0.1, 1e6, 'liquor'),
      alkalinity: number('mg/L', 0, 2000, 'alkalinity as CaCO3'),
      liquor_ph: number('', 5, 10, 'pH of the liquor'),
      to_ph: usually(number('', 4.5, 7, 'pH wanted'), '5.7'),
      acid: acid(),
    },
    results: {
      mL: result('mL', 1, 'acid'),
      mEq: result('mEq', 1, 'the same'),
      mEq_per_L: result('mEq/L', 3, 'a litre of liquor'),
    },
    equation: 'share of the alkalinity by the carbonate balance, over what a mL of the acid gives',
    source: 'carbonate constants pK1 6.38, pK2 10.33; acids from pKa and density (from memory)',
    example: 'litres=260 alkalinity=130 liquor_ph=7.4 to_ph=5.5',
    answer: (v) => {
      const found = treatSparge({
        report: { ...DISTILLED, alkalinityMgLCaCO3: v.alkalinity, ph: v.liquor_ph },
        litres: v.litres,
        toPh: v.to_ph,
        acid: v.acid,
      });
      return numbers({ mL: found.mL, mEq: found.mEq, mEq_per_L: found.mEq / v.litres });
    },
  }),
  defineSum({
    name: 'plate',
    what: 'knock-out through a plate cooler',
    arguments: {
      ...cooled,
      most_wort_L_min: number('L/min', 0.1, 1e4, 'most the pump passes'),
    },
    results: {
      wort_L_min: result('L/min', 2, 'wort to set'),
      minutes: result('min', 1, 'for all of it'),
      out_C: result('°C', 1, 'into the tank'),
      liquor_L: result('L', 0, 'liquor in all'),
      liquor_out_C: result('°C', 1, 'liquor as it leaves'),
      left_kWh: result('kWh', 2, 'still to be taken out in the tank'),
    },
    equation: 'counter-flow effectiveness of NTU = UA/Cmin; the greatest flow that reaches it',
    source: 'effectiveness-NTU; enthalpy balance',
    example: 'wort_L=870 to_C=9 liquor_in_C=5 liquor_L_min=25 ua_W_K=9000 most_wort_L_min=20',
    answer: (v) => {
      const run = plateRun(
        {
          uaWK: v.ua_W_K,
          liquorLMin: v.liquor_L_min,
          liquorInC: v.liquor_in_C,
          mostWortLMin: v.most_wort_L_min,
        },
        {
          body: wortOf({ litres: v.wort_L, tC: 20, plato: v.plato }),
          fromC: v.from_C,
          toC: v.to_C,
        },
      );
      return numbers(
        {
          wort_L_min: run.wortLMin,
          minutes: run.minutes,
          out_C: run.outC,
          liquor_L: run.liquorL,
          liquor_out_C: run.liquorOutC,
          left_kWh: run.leftKWh,
        },
        run.whyNot,
      );
    },
  }),
  defineSum({
    name: 'plate-ua',
    what: 'heat transfer of a plate cooler from one knock-out',
    arguments: {
      wort_L_min: number('L/min', 0.1, 1e4, 'wort into the tank'),
      liquor_L_min: number('L/min', 0.1, 1e4, 'cold liquor'),
      plato: usually(extract('plato', 0, 40, 'extract'), '12'),
      from_C: temperature(40, 105, 'wort before'),
      to_C: temperature(1, 60, 'wort after'),
      liquor_in_C: temperature(0, 40, 'cold liquor'),
    },
    results: { ua_W_K: result('W/K', 0, 'heat transfer; when it falls the cooler is fouled') },
    equation: 'the UA at which counter-flow takes out the heat that was taken out',
    source: 'effectiveness-NTU, inverted',
    example: 'wort_L_min=14 liquor_L_min=25 from_C=94 to_C=16 liquor_in_C=8',
    answer: (v) =>
      numbers({
        ua_W_K: plateUa({
          wortLMin: v.wort_L_min,
          liquorLMin: v.liquor_L_min,
          plato: v.plato,
          fromC: v.from_C,
          toC: v.to_C,
          liquorInC: v.liquor_in_C,
        }),
      }),
  }),
  defineSum({
    name: 'coil',
    what: 'cooling in the kettle with an immersed coil',
    arguments: {
      ...cooled,
      kettle_kJ_K: usually(number('kJ/K', 0, 1e5, 'heat capacity of the kettle'), '0'),
    },
    results: {
      minutes: result('min', 1, 'to the temperature wanted, stirred'),
      out_C: result('°C', 1, 'where it stands then'),
      liquor_L: result('L', 0, 'liquor in all'),
    },
    equation: 'dT/dt = -C (1 - exp(-UA/C)) (T - Tin)/(m cp + kettle), C of the liquor',
    source: 'mixed wort, enthalpy balance',
    example: 'wort_L=50 to_C=20 liquor_in_C=12 liquor_L_min=8 ua_W_K=350',
    answer: (v) => {
      const run = coilRun({
        body: wortOf({ litres: v.wort_L, tC: 20, plato: v.plato }),
        kettleKJK: v.kettle_kJ_K,
        fromC: v.from_C,
        toC: v.to_C,
        uaWK: v.ua_W_K,
        liquorLMin: v.liquor_L_min,
        liquorInC: v.liquor_in_C,
      });
      return numbers({ minutes: run.minutes, out_C: run.outC, liquor_L: run.liquorL }, run.whyNot);
    },
  }),
  defineSum({
    name: 'pitching',
    what: 'yeast and oxygen for a tank',
    arguments: {
      volume_L: quantity('volume', 'L', 0.1, 1e6, 'cold wort'),
      plato: extract('plato', 1, 40, 'extract'),
      rate: usually(number('million/(mL °P)', 0.1, 5, '0.75 ale, 1.5 lager'), '1.5'),
      cells_per_mL: usually(number('cells/mL', 1e6, 1e10, 'in the slurry'), '1e9'),
      viability_pct: usually(number('%', 30, 100, 'living'), '95'),
      t_C: usually(temperature(0, 40, 'wort when it is pitched'), '9'),
      altitude_m: usually(quantity('length', 'm', -500, 5000, 'height above sea level'), '0'),
    },
    results: {
      cells: result('', 0, 'living cells'),
      slurry_L: result('L', 2, 'slurry'),
      million_per_mL: result('million/mL', 1, 'once pitched'),
      air_mg_L: result('mg/L', 1, 'oxygen that air can reach'),
    },
    equation: 'cells = rate °P mL; slurry = cells/(count viability)',
    source: 'G. Fix, second hand; oxygen as Standard Methods 4500-O for water (from memory)',
    example: 'volume_L=1000 plato=12 viability_pct=90',
    answer: (v) => {
      const pressureKPa = standardPressure(v.altitude_m);
      const found = pitching(
        {
          body: wortOf({ litres: v.volume_L, tC: 20, plato: v.plato }),
          tC: v.t_C,
          pressureKPa,
        },
        {
          kind: 'lager',
          rate: v.rate,
          cellsPerML: v.cells_per_mL,
          viability: v.viability_pct / 100,
          generation: 0,
        },
      );
      return numbers({
        cells: found.cells,
        slurry_L: found.slurryL,
        million_per_mL: found.millionPerML,
        air_mg_L: oxygenSaturation({ tC: v.t_C, plato: v.plato, pressureKPa }),
      });
    },
  }),
  defineSum({
    name: 'starter',
    what: 'steps to grow the yeast for a pitching',
    arguments: {
      cells_bn: number('billion', 0.001, 1e9, 'living cells wanted, in thousand millions'),
      start_L: quantity('volume', 'L', 1e-4, 1e5, 'culture grown out, at hand'),
    },
    results: {
      steps: result('', 0, 'steps, of equal ratio'),
      first_L: result('L', 2, 'first of them'),
      last_L: result('L', 2, 'last of them'),
      hours: result('h', 0, 'in all'),
    },
    equation: 'last = cells/50 million a mL; each step ten times the one before at most, 72 h',
    source: 'Brewing Microbiology, ch. 3; ten times at most (from memory)',
    example: 'cells_bn=18000 start_L=0.5',
    answer: ({ cells_bn, start_L }) => {
      const steps = starterSteps(1e9 * cells_bn, start_L);
      const last = steps.at(-1);
      return numbers(
        {
          steps: steps.length,
          first_L: steps[0]?.volumeL ?? start_L,
          last_L: last?.volumeL ?? start_L,
          hours: last?.endsAfterH ?? 0,
        },
        steps.length === 0 ? 'the culture at hand is enough' : undefined,
      );
    },
  }),
];
