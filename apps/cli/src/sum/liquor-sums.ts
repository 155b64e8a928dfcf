/** Water and wort as stuff: density, heat, boiling point, extract, alkalinity, mash pH. */
import {
  boilingPoint,
  boilingPointAtPressure,
  boilingRise,
  mashPh,
  platoFromSg,
  residualAlkalinity,
  sgFromPlato,
  sucroseViscosity,
  waterCp,
  waterDensity,
  waterEnthalpy,
  waterViscosity,
  wortCp,
  wortDensity,
  wortViscosity,
} from '@ladlework/matter';
import { extract, number, optional, quantity, temperature, usually } from './argument.ts';
import { defineSum, numbers, result, type Sum } from './sum.ts';

/** A mash pH from a lot's own titration, and from a usual malt. @source deLange 2015; the second our judgement */
const PH_DOUBT = { ownLot: 0.1, usual: 0.2 } as const;

export const LIQUOR_SUMS: readonly Sum[] = [
  defineSum({
    name: 'water',
    what: 'liquor at a temperature',
    arguments: { t: temperature(-20, 110, 'temperature') },
    results: {
      density_kg_m3: result('kg/m³', 3, 'density'),
      cp_kJ_kgK: result('kJ/(kg K)', 5, 'heat capacity'),
      enthalpy_kJ_kg: result('kJ/kg', 3, 'enthalpy, about 0 at 0 °C'),
      viscosity_mPas: result('mPa s', 4, 'viscosity'),
    },
    equation: 'Gibbs energy of liquid water at 0.1 MPa and its derivatives',
    source: 'IAPWS SR6-08(2011)',
    example: 't=66',
    answer: ({ t }) =>
      numbers({
        density_kg_m3: waterDensity(t),
        cp_kJ_kgK: waterCp(t),
        enthalpy_kJ_kg: waterEnthalpy(t),
        viscosity_mPas: waterViscosity(t),
      }),
  }),
  defineSum({
    name: 'boiling-point',
    what: 'boiling point at a height or a pressure',
    arguments: {
      altitude_m: optional(quantity('length', 'm', -500, 5000, 'height above sea level')),
      pressure_kPa: optional(quantity('pressure', 'kPa', 45, 200, 'air pressure, absolute')),
      plato: usually(extract('plato', 0, 40, 'extract of the wort'), '0'),
    },
    results: { t_C: result('°C', 2, 'boiling point') },
    equation:
      'p = 101.325 (1 - 0.0065 H/288.15)^5.25588; saturation at p; rise by the activity of water',
    source:
      'US Standard Atmosphere 1976; IAPWS-IF97 region 4, eq. 31; Starzak & Peacock 1997 for the rise',
    example: 'altitude_m=1609',
    answer: ({ altitude_m, pressure_kPa, plato }) => {
      if (altitude_m !== undefined && pressure_kPa === undefined)
        return numbers({ t_C: boilingPoint(altitude_m, plato / 100) });
      if (pressure_kPa !== undefined && altitude_m === undefined)
        return numbers({ t_C: boilingPointAtPressure(pressure_kPa, plato / 100) });
      return {
        ok: false,
        message:
          'give altitude_m (-500 to 5000 m) or pressure_kPa (45 to 200 kPa), one of the two and not both.',
      };
    },
  }),
  defineSum({
    name: 'plato',
    what: 'extract from specific gravity',
    arguments: { sg: extract('sg', 0.98, 1.18, 'specific gravity 20/20 °C in air') },
    results: { plato: result('°P', 2, 'extract') },
    equation: '°P = -616.868 + 1111.14 s - 630.272 s² + 135.997 s³',
    source: 'ASBC cubic, from memory; checked against NBS Circular 440 (1942)',
    example: 'sg=1.048',
    answer: ({ sg }) => numbers({ plato: platoFromSg(sg) }),
  }),
  defineSum({
    name: 'sg',
    what: 'specific gravity from extract',
    arguments: { plato: extract('plato', -5, 40, 'extract') },
    results: { sg: result('', 5, 'specific gravity 20/20 °C in air') },
    equation: 'inverse of °P = -616.868 + 1111.14 s - 630.272 s² + 135.997 s³',
    source: 'ASBC cubic, from memory; checked against NBS Circular 440 (1942)',
    example: 'plato=12',
    answer: ({ plato }) => numbers({ sg: sgFromPlato(plato) }),
  }),
  defineSum({
    name: 'wort',
    what: 'wort of an extract at a temperature',
    arguments: {
      plato: extract('plato', 0, 40, 'extract'),
      t: temperature(0, 105, 'temperature'),
    },
    results: {
      density_kg_m3: result('kg/m³', 2, 'density'),
      cp_kJ_kgK: result('kJ/(kg K)', 3, 'heat capacity'),
      viscosity_mPas: result('mPa s', 3, 'viscosity of wort'),
      viscosity_sucrose_mPas: result('mPa s', 3, 'of sucrose solution, a sixth thinner'),
      boiling_rise_K: result('K', 3, 'boils hotter than water, at sea level'),
    },
    equation:
      'density of sucrose solution; cp = 4.184 - 2.511 w + 0.0075 w t; viscosity of sucrose x 1.2',
    source:
      'ICUMSA SPS-4 (1995); Llano 2005; fit to Bingham & Jackson 1919, factor from the EBC congress wort range; Starzak & Peacock 1997',
    example: 'plato=12 t=78',
    answer: ({ plato, t }) => {
      const w = plato / 100;
      return numbers({
        density_kg_m3: wortDensity(w, t),
        cp_kJ_kgK: wortCp(w, t),
        viscosity_mPas: wortViscosity(w, t),
        viscosity_sucrose_mPas: sucroseViscosity(w, t),
        boiling_rise_K: boilingRise(w),
      });
    },
  }),
  defineSum({
    name: 'residual-alkalinity',
    what: 'residual alkalinity of the liquor',
    arguments: {
      ca: number('mg/L', 0, 2000, 'calcium'),
      mg: number('mg/L', 0, 2000, 'magnesium'),
      alkalinity: number('mg/L', 0, 2000, 'alkalinity as CaCO3'),
    },
    results: {
      mg_L_CaCO3: result('mg/L', 1, 'residual alkalinity as CaCO3'),
      dH: result('°dH', 2, 'the same in German degrees'),
    },
    equation: 'alkalinity - Ca/3.5 - Mg/7, all in mEq/L',
    source: 'Kolbach 1953, definition as in MEBAK W-030.01.900',
    example: 'ca=52 mg=12 alkalinity=130',
    answer: ({ ca, mg, alkalinity }) => {
      const left = residualAlkalinity({
        calciumMgL: ca,
        magnesiumMgL: mg,
        alkalinityMgLCaCO3: alkalinity,
      });
      return numbers({ mg_L_CaCO3: left.mgLCaCO3, dH: left.dH });
    },
  }),
  defineSum({
    name: 'mash-ph',
    what: 'mash pH to expect, cooled to room temperature',
    arguments: {
      grist_kg: quantity('mass', 'kg', 0.01, 1e5, 'grist'),
      liquor_L: quantity('volume', 'L', 0.01, 1e6, 'mash liquor'),
      liquor_ph: number('', 5, 10.5, 'pH of the liquor'),
      alkalinity: number('mg/L', 0, 2000, 'alkalinity as CaCO3'),
      ca: number('mg/L', 0, 2000, 'calcium'),
      mg: number('mg/L', 0, 2000, 'magnesium'),
      acid_mEq: usually(number('mEq', -1e6, 1e6, 'acid added'), '0'),
      malt_ph: optional(number('', 4, 7, 'pH of the malt in distilled water, 5.8 unless given')),
      buffer_mEq_kg: usually(
        number('mEq/(kg pH)', 5, 200, 'acid that moves a kilogram of the malt by one pH'),
        '40',
      ),
    },
    results: {
      ph: result('', 2, 'mash pH'),
      ph_low: result('', 2, 'low end'),
      ph_high: result('', 2, 'high end'),
    },
    equation: 'malt + carbonate - Ca/3.5 - Mg/7 - acid = 0, in mEq',
    source:
      'proton balance, deLange, MBAA TQ 52(1) 2015; Kolbach 1953; doubt 0.1 with the lot’s own malt_ph, 0.2 without (our judgement)',
    example: 'grist_kg=88 liquor_L=290 liquor_ph=7.5 alkalinity=75 ca=50 mg=10',
    answer: (v) => {
      const ph = mashPh({
        gristKg: v.grist_kg,
        buffer: { ph: v.malt_ph ?? 5.8, slope: -v.buffer_mEq_kg },
        liquorL: v.liquor_L,
        liquorPh: v.liquor_ph,
        alkalinityMgLCaCO3: v.alkalinity,
        calciumMgL: v.ca,
        magnesiumMgL: v.mg,
        acidMEq: v.acid_mEq,
      });
      const doubt = v.malt_ph === undefined ? PH_DOUBT.usual : PH_DOUBT.ownLot;
      return numbers(
        { ph, ph_low: ph - doubt, ph_high: ph + doubt },
        'a measured mash pH always overrules this',
      );
    },
  }),
];
