/** Boil and cooling: evaporation, colour, bitterness, DMS, the cooler. */
import {
  bitterness,
  boilingPoint,
  boilOffRate,
  type ColouredMalt,
  coolingLiquor,
  dmsAfter,
  ebcFromSrm,
  hopUtilisation,
  maltColourUnits,
  srmFromColourUnits,
  volumeAt20,
  wortDensity,
} from '@ladlework/matter';
import { fail, ok, parseQuantity, type Result } from '@ladlework/quantity';
import { extract, number, optional, quantity, temperature, usually, written } from './argument.ts';
import { defineSum, numbers, result, type Sum } from './sum.ts';

/** Beer colour by the power law is off by this share or more. @source our judgement on common practice */
const COLOUR_DOUBT = 0.2;

/** "80 kg@1.7+8 kg@30": what each malt weighs and its colour in °L. */
function readMalts(text: string): Result<ColouredMalt[], string> {
  const malts: ColouredMalt[] = [];
  for (const part of text.split('+')) {
    const [mass = '', colour = '', ...more] = part.split('@');
    const kg = parseQuantity('mass', mass, { min: 0, max: 1e5 });
    const lovibond = Number(colour.trim().replace(/°?\s*l$/i, ''));
    if (more.length > 0 || colour.trim() === '' || !Number.isFinite(lovibond))
      return fail(`holds "${part.trim().slice(0, 40)}", which is not a mass, @ and a colour`);
    if (!kg.ok) return fail(`holds "${mass.trim().slice(0, 40)}", which is not a mass in range`);
    if (lovibond < 0 || lovibond > 2000) return fail(`holds a colour of ${lovibond} °L`);
    malts.push({ kg: kg.value, lovibond });
  }
  return ok(malts);
}

export const BOIL_SUMS: readonly Sum[] = [
  defineSum({
    name: 'evaporation',
    what: 'water a boil gives off',
    arguments: {
      net_kW: quantity('power', 'kW', 0, 1e4, 'power into the wort, losses taken off'),
      minutes: usually(quantity('duration', 'min', 0, 1440, 'time at the boil'), '60'),
      altitude_m: usually(quantity('length', 'm', -500, 5000, 'height above sea level'), '0'),
    },
    results: {
      kg_h: result('kg/h', 2, 'evaporation'),
      kg: result('kg', 2, 'in the time given'),
    },
    equation: 'kg/h = 3600 P/hfg(boiling point)',
    source: 'latent heat fitted to IAPWS-IF97, within 0.021 kJ/kg; US Standard Atmosphere 1976',
    example: 'net_kW=3.5 minutes=75',
    answer: (v) => {
      const rate = boilOffRate(v.net_kW, boilingPoint(v.altitude_m));
      return numbers({ kg_h: rate, kg: (rate * v.minutes) / 60 });
    },
  }),
  defineSum({
    name: 'colour',
    what: 'beer colour from the grist',
    arguments: {
      malts: written('grist', 'mass@°L, joined by +, as in 80kg@1.7+8kg@30', readMalts),
      volume_L: quantity('volume', 'L', 0.1, 1e6, 'cold wort at the end of the boil'),
    },
    results: {
      srm: result('SRM', 1, 'colour'),
      ebc: result('EBC', 1, 'the same'),
      mcu: result('lb °L/gal', 1, 'malt colour units'),
      srm_low: result('SRM', 1, 'low end'),
      srm_high: result('SRM', 1, 'high end'),
    },
    equation: 'SRM = 1.4922 MCU^0.6859, MCU = 8.3454 sum(kg °L)/L; EBC = 1.9685 SRM',
    source: 'Morey’s power law (common practice), 20 % either way or worse; to 50 SRM',
    example: 'malts=80kg@1.7+8kg@30 volume_L=440',
    answer: ({ malts, volume_L }) => {
      const mcu = maltColourUnits(malts, volume_L);
      const srm = srmFromColourUnits(mcu);
      return numbers(
        {
          srm,
          ebc: ebcFromSrm(srm),
          mcu,
          srm_low: srm * (1 - COLOUR_DOUBT),
          srm_high: srm * (1 + COLOUR_DOUBT),
        },
        'boiling mash adds to it; plan shows by how much',
      );
    },
  }),
  defineSum({
    name: 'bitterness',
    what: 'bitterness of one hop addition',
    arguments: {
      hops_g: quantity('mass', 'g', 0, 1e6, 'hops'),
      alpha_pct: number('%', 0, 30, 'alpha acids'),
      minutes: quantity('duration', 'min', 0, 600, 'time in hot wort'),
      sg: extract('sg', 1, 1.13, 'mean gravity of the boil'),
      volume_L: quantity('volume', 'L', 0.1, 1e6, 'finished beer'),
      t_C: usually(temperature(80, 105, 'temperature of the wort'), '100'),
    },
    results: {
      ibu: result('mg/L', 1, 'bitterness'),
      utilisation: result('', 3, 'share of the alpha acids'),
    },
    equation:
      'U = 1.65 x 0.000125^(SG-1) (1 - exp(-0.04 t k(T)/k(100)))/4.15; IBU = U alpha g 1000/L',
    source:
      'Tinseth’s formula (common practice), calibrate by 4.15; off the boil by Malowicki & Shellhammer 2005, measured from 90 °C',
    example: 'hops_g=450 alpha_pct=4.5 minutes=60 sg=1.048 volume_L=350',
    answer: (v) => {
      const utilisation = hopUtilisation({ sg: v.sg, minutes: v.minutes, tC: v.t_C });
      const ibu = bitterness({
        grams: v.hops_g,
        alphaPct: v.alpha_pct,
        utilisation,
        volumeL: v.volume_L,
      });
      return numbers({ ibu, utilisation });
    },
  }),
  defineSum({
    name: 'dms',
    what: 'DMS left by a boil and a hot stand',
    arguments: {
      smm_ug_L: number('ug/L', 0, 1e5, 'precursor before the boil, as DMS'),
      minutes: quantity('duration', 'min', 0, 600, 'time at the boil'),
      evaporation_pct_h: number('%/h', 0, 40, 'evaporation'),
      t_C: usually(temperature(70, 105, 'temperature of the boil'), '100'),
      ph: optional(number('', 4.8, 6.2, 'pH of the wort, cooled; as published when left out')),
      stand_min: usually(quantity('duration', 'min', 0, 600, 'hot stand after it'), '0'),
      stand_C: usually(temperature(70, 105, 'temperature of the stand'), '95'),
    },
    results: {
      smm_left_ug_L: result('ug/L', 0, 'precursor left at the end'),
      dms_ug_L: result('ug/L', 0, 'free DMS at the end of the boil'),
      dms_after_stand_ug_L: result('ug/L', 0, 'free DMS after the stand; tasted from 30 to 50'),
    },
    equation: 'S’ = -k S; D’ = k S - s D; k(100) = 0.02/min, 131.6 kJ/mol; s = 0.18/min at 17 %/h',
    source:
      'Wilson & Booer 1979; temperature and pH by Dickenson 1979, second hand; stripping taken as proportional to the evaporation',
    example: 'smm_ug_L=400 minutes=60 evaporation_pct_h=8 stand_min=30',
    answer: (v) => {
      const acidity = v.ph === undefined ? {} : { ph: v.ph };
      const boiled = dmsAfter({
        precursor: v.smm_ug_L,
        minutes: v.minutes,
        tC: v.t_C,
        evaporationPctH: v.evaporation_pct_h,
        ...acidity,
      });
      const stood = dmsAfter({
        ...boiled,
        minutes: v.stand_min,
        tC: v.stand_C,
        evaporationPctH: 0,
        ...acidity,
      });
      return numbers({
        smm_left_ug_L: stood.precursor,
        dms_ug_L: boiled.free,
        dms_after_stand_ug_L: stood.free,
      });
    },
  }),
  defineSum({
    name: 'cooling',
    what: 'liquor to cool the wort, and what the wort shrinks to',
    arguments: {
      wort_L: quantity('volume', 'L', 0.1, 1e6, 'hot wort, as read'),
      plato: extract('plato', 0, 40, 'extract'),
      from_C: temperature(20, 105, 'temperature of the wort'),
      to_C: temperature(0, 100, 'temperature wanted'),
      liquor_in_C: temperature(0, 60, 'cold liquor'),
      liquor_out_C: temperature(0, 100, 'liquor as it leaves'),
    },
    results: {
      liquor_L: result('L', 1, 'cold liquor'),
      ratio: result('', 2, 'litres of liquor a litre of hot wort'),
      wort_at_20_L: result('L', 2, 'wort at 20 °C'),
      contraction_pct: result('%', 2, 'shrinks by'),
    },
    equation: 'liquor = m cp (from - to)/(cw (out - in)); V20 = V density(from)/density(20)',
    source: 'enthalpy balance; ICUMSA SPS-4, Llano 2005, IAPWS SR6-08; no losses',
    example: 'wort_L=400 plato=12 from_C=98 to_C=9 liquor_in_C=4 liquor_out_C=70',
    answer: (v) => {
      const w = v.plato / 100;
      const liquor = coolingLiquor({
        wortKg: (v.wort_L * wortDensity(w, v.from_C)) / 1000,
        w,
        fromC: v.from_C,
        toC: v.to_C,
        liquorInC: v.liquor_in_C,
        liquorOutC: v.liquor_out_C,
      });
      const cold = volumeAt20(v.wort_L, v.from_C, w);
      return numbers({
        liquor_L: liquor,
        ratio: liquor / v.wort_L,
        wort_at_20_L: cold,
        contraction_pct: 100 * (1 - cold / v.wort_L),
      });
    },
  }),
];
