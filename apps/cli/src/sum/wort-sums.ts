/** Grist, run-off and kettle: kilograms for a beer, what runs off, what stands, what boils off. */
import {
  bedDepth,
  beerTarget,
  expectedFlow,
  type GristLot,
  gristForBeer,
  hopResult,
  inWholeBags,
  netPowerFromBoil,
  platoOf,
  runOff,
  USUAL_PERMEABILITY_M2,
  whatStands,
  wortOf,
} from '@ladlework/brewhouse';
import { fail, ok, parseQuantity, type Result } from '@ladlework/quantity';
import { extract, number, optional, quantity, temperature, usually, written } from './argument.ts';
import { defineSum, numbers, result, type Sum } from './sum.ts';

/** Extract taken for bags: it cancels, because all lots are taken alike. */
const ALIKE = { extractDry: 0.8, moisture: 0 } as const;

interface Bag {
  readonly kg: number;
  readonly stepKg: number;
}

/** "81kg/25kg+3.9kg/0.1kg": what is wanted of each lot, and the step it is tipped in. */
function readBags(text: string): Result<Bag[], string> {
  const bags: Bag[] = [];
  for (const part of text.split('+')) {
    const [wanted = '', step = ''] = part.split('/');
    const kg = parseQuantity('mass', wanted, { min: 0.001, max: 1e5 });
    const stepKg = parseQuantity('mass', step, { min: 0.001, max: 1000 });
    if (!kg.ok || !stepKg.ok)
      return fail(`holds "${part.trim().slice(0, 40)}", which is not a mass, / and a bag`);
    bags.push({ kg: kg.value, stepKg: stepKg.value });
  }
  return ok(bags);
}

const lot = (share: number, extractDry: number, moisture: number, stepKg: number): GristLot => ({
  name: 'malt',
  kind: 'malt',
  extractDry,
  moisture,
  share,
  stepKg,
});

const mashArguments = {
  grist_kg: quantity('mass', 'kg', 0.1, 1e5, 'grist'),
  mash_wort_L: quantity(
    'volume',
    'L',
    1,
    1e6,
    'all liquid of the mash, that in the grain too, hot',
  ),
  plato: extract('plato', 0.5, 40, 'strength of the first wort'),
  t_C: usually(temperature(40, 95, 'temperature of the bed'), '75'),
  kettle_L: quantity(
    'volume',
    'L',
    0.1,
    1e6,
    'wanted in the kettle, at the temperature of the bed',
  ),
  hold_L: usually(quantity('volume', 'L', 0, 1e5, 'held above the bed while sparging'), '0'),
  under_L: usually(quantity('volume', 'L', 0, 1e4, 'space under the plates'), '0'),
  retained_L_kg: usually(number('L/kg', 0.5, 2, 'kept by the drained bed'), '1.1'),
  flooded_L_kg: usually(number('L/kg', 0.6, 4, 'in the bed under wort'), '1.8'),
  stages: usually(number('', 0.5, 20, 'ideal stages of the flooded bed'), '1.6'),
};

interface MashValues {
  readonly grist_kg: number;
  readonly mash_wort_L: number;
  readonly plato: number;
  readonly t_C: number;
  readonly kettle_L: number;
  readonly hold_L: number;
  readonly under_L: number;
  readonly retained_L_kg: number;
  readonly flooded_L_kg: number;
  readonly stages: number;
}

const runOffOf = (v: MashValues) =>
  runOff(
    {
      gristKg: v.grist_kg,
      mash: wortOf({ litres: v.mash_wort_L, tC: v.t_C, plato: v.plato }),
      tC: v.t_C,
      retainedLPerKg: v.retained_L_kg,
      floodedLPerKg: v.flooded_L_kg,
      stages: v.stages,
      underL: v.under_L,
      deadL: 0,
    },
    { kettleL: v.kettle_L, holdL: v.hold_L },
  );

const BED_SOURCE =
  'ideal stages, mass balance; 1.6 stages lose what 4 to 8 equal mixed run-offs do (Hansen 2008; our judgement)';

export const WORT_SUMS: readonly Sum[] = [
  defineSum({
    name: 'grist',
    what: 'kilograms of malt for a beer',
    arguments: {
      volume_L: quantity('volume', 'L', 1, 1e6, 'wort in the tank, cold'),
      plato: extract('plato', 1, 30, 'extract by weight'),
      extract_pct: usually(number('%', 30, 100, 'laboratory extract of the grist, dry'), '80.5'),
      moisture_pct: usually(number('%', 0, 15, 'water in the malt'), '4.5'),
      yield_pct: usually(
        number('%', 40, 100, 'of the extract as weighed that reaches the tank'),
        '80',
      ),
    },
    results: {
      grist_kg: result('kg', 2, 'malt'),
      extract_kg: result('kg', 2, 'extract in the tank'),
      g_100mL: result('g/100 mL', 3, 'the same strength by volume, which is another number'),
    },
    equation: 'kg = V rho P/100/(E (1 - M) yield)',
    source: 'mass balance; density of ICUMSA SPS-4; °P is per cent by weight, never g in 100 mL',
    example: 'volume_L=500 plato=12',
    answer: (v) => {
      const lots = [lot(1, v.extract_pct / 100, v.moisture_pct / 100, 1)];
      const losses = { mashAndLauter: 1 - v.yield_pct / 100, kettle: 0, transfer: 0 };
      const target = beerTarget(v.volume_L, { by: 'weight', plato: v.plato });
      const found = gristForBeer(target, lots, losses);
      return numbers({
        grist_kg: found.gristKg,
        extract_kg: found.account.at(-1)?.extractKg ?? null,
        g_100mL: found.gPer100mL,
      });
    },
  }),
  defineSum({
    name: 'bags',
    what: 'a grist in whole bags',
    arguments: {
      malts: written('grist', 'mass/bag, joined by +, as in 81kg/25kg+3.9kg/0.1kg', readBags),
      volume_L: quantity('volume', 'L', 1, 1e6, 'wort in the tank it was meant for'),
      plato: extract('plato', 1, 30, 'extract it was meant for'),
    },
    results: {
      grist_kg: result('kg', 2, 'tipped in all'),
      plato_change: result('°P', 2, 'strength at the same volume, more or less'),
      volume_L: result('L', 1, 'or the volume at the same strength'),
    },
    equation: 'largest steps rounded first, later lots take up what is left over',
    source: 'mass balance; all lots taken to yield alike',
    example: 'malts=81.2kg/25kg+3.9kg/0.1kg volume_L=400 plato=13.8',
    answer: ({ malts, volume_L, plato }) => {
      const kg = malts.reduce((sum, m) => sum + m.kg, 0);
      const lots = malts.map((m) => lot(m.kg / kg, ALIKE.extractDry, ALIKE.moisture, m.stepKg));
      const target = beerTarget(volume_L, { by: 'weight', plato });
      const none = { mashAndLauter: 0, kettle: 0, transfer: 0 };
      const all = gristForBeer(target, lots, none).gristKg;
      if (all > kg)
        return {
          ok: false,
          message: `malts weigh ${kg.toFixed(1)} kg, and ${plato} °P in ${volume_L} L take ${all.toFixed(1)} kg even if nothing is lost; allowed: that or more.`,
        };
      const loss = Math.min(0.6, 1 - all / kg);
      const losses = { mashAndLauter: loss, kettle: 0, transfer: 0 };
      const bags = inWholeBags(gristForBeer(target, lots, losses), lots, losses);
      return numbers({
        grist_kg: bags.grist.gristKg,
        plato_change: bags.platoChange,
        volume_L: bags.tankLAtTarget,
      });
    },
  }),
  defineSum({
    name: 'lauter',
    what: 'what runs off a bed with sparging',
    arguments: mashArguments,
    results: {
      kettle_plato: result('°P', 2, 'strength of the full kettle'),
      last_plato: result('°P', 2, 'last runnings'),
      extract_kg: result('kg', 2, 'in the kettle'),
      left_kg: result('kg', 2, 'extract left in the tun'),
      sparge_L: result('L', 1, 'sparge liquor'),
    },
    equation: 'wort above the bed as a plug, then the bed as mixed stages, then it drains',
    source: BED_SOURCE,
    example: 'grist_kg=149 mash_wort_L=610 plato=17.5 kettle_L=950',
    answer: (v) => {
      const run = runOffOf(v);
      return numbers(
        {
          kettle_plato: platoOf(run.kettle),
          last_plato: run.points.at(-1)?.tapPlato ?? null,
          extract_kg: run.kettle.extractKg,
          left_kg: run.left.extractKg,
          sparge_L: run.spargeL,
        },
        run.ranDry ? 'the tun runs dry before the kettle is full' : undefined,
      );
    },
  }),
  defineSum({
    name: 'shut-off',
    what: 'when to shut the sparge so that the tun drains at kettle-full',
    arguments: mashArguments,
    results: {
      shut_at_L: result('L', 1, 'shut it at this much in the kettle'),
      sparge_from_L: result('L', 1, 'first sparge liquor at this much'),
      sparge_L: result('L', 1, 'sparge liquor in all'),
    },
    equation: 'kettle - held above the bed - (flooded - retained) grist - space under the plates',
    source: 'volume balance: while sparging as much goes on as runs off',
    example: 'grist_kg=149 mash_wort_L=610 plato=17.5 kettle_L=950 under_L=20',
    answer: (v) => {
      const run = runOffOf(v);
      return numbers({
        shut_at_L: run.shutAtL,
        sparge_from_L: run.spargeFromL,
        sparge_L: run.spargeL,
      });
    },
  }),
  defineSum({
    name: 'bed',
    what: 'depth of the grain bed and the flow through it',
    arguments: {
      grist_kg: quantity('mass', 'kg', 0.1, 1e5, 'grist'),
      diameter_m: quantity('length', 'm', 0.1, 10, 'diameter of the tun'),
      head_kPa: usually(quantity('pressure', 'kPa', 0.01, 100, 'head over the bed'), '0.981'),
      plato: usually(extract('plato', 0, 40, 'wort in the bed'), '12'),
      t_C: usually(temperature(20, 100, 'temperature of the bed'), '76'),
      permeability_m2: usually(number('m2', 1e-14, 1e-9, 'of this kit’s beds'), '1.1e-11'),
    },
    results: {
      depth_m: result('m', 3, 'depth; 0.2 to 0.45 is usual'),
      flow_L_min: result('L/min', 2, 'flow'),
      flow_low_L_min: result('L/min', 2, 'for the tightest usual bed'),
      flow_high_L_min: result('L/min', 2, 'for the loosest'),
    },
    equation: 'Q = k A dp/(mu depth); 2.1 L of wet bed a kilogram',
    source:
      'Darcy; permeability as the run-off rates of practice imply (derived), 0.9 to 1.4e-11 m²',
    example: 'grist_kg=149 diameter_m=1.07',
    answer: (v) => {
      const areaM2 = (Math.PI / 4) * v.diameter_m ** 2;
      const shape = { areaM2, depthM: bedDepth(v.grist_kg, areaM2) };
      const state = { headKPa: v.head_kPa, plato: v.plato, tC: v.t_C };
      return numbers({
        depth_m: shape.depthM,
        flow_L_min: expectedFlow(shape, v.permeability_m2, state),
        flow_low_L_min: expectedFlow(shape, USUAL_PERMEABILITY_M2.low, state),
        flow_high_L_min: expectedFlow(shape, USUAL_PERMEABILITY_M2.high, state),
      });
    },
  }),
  defineSum({
    name: 'kettle-full',
    what: 'what stands in a kettle that was read hot',
    arguments: {
      litres: quantity('volume', 'L', 0, 1e6, 'as read, hot'),
      t_C: temperature(0, 110, 'temperature of the wort'),
      plato: extract('plato', 0, 40, 'strength of a cooled sample'),
      ph: optional(number('', 3, 9, 'pH as read')),
      ph_C: usually(temperature(0, 100, 'temperature of the pH sample'), '20'),
    },
    results: {
      cold_L: result('L', 2, 'at 20 °C'),
      extract_kg: result('kg', 2, 'extract'),
      water_kg: result('kg', 2, 'water'),
      ph_20: result('', 2, 'pH at 20 °C'),
    },
    equation: 'mass = V density(P, t); pH20 = pH + 0.0078 (t - 20)',
    source: 'ICUMSA SPS-4; pH by Briggs et al., second hand',
    example: 'litres=977 t_C=95 plato=11 ph=5.1 ph_C=60',
    answer: (v) => {
      const acid = v.ph === undefined ? {} : { ph: { ph: v.ph, tC: v.ph_C } };
      const found = whatStands({ litres: v.litres, tC: v.t_C, plato: v.plato, ...acid });
      return numbers({
        cold_L: found.coldL,
        extract_kg: found.wort.extractKg,
        water_kg: found.wort.waterKg,
        ph_20: found.ph20 ?? null,
      });
    },
  }),
  defineSum({
    name: 'boil-off',
    what: 'net power of a kettle from one boil that was read',
    arguments: {
      before_L: quantity('volume', 'L', 1, 1e6, 'before, as read'),
      before_C: temperature(0, 110, 'temperature of that'),
      before_plato: extract('plato', 0.5, 40, 'strength before'),
      after_L: quantity('volume', 'L', 1, 1e6, 'after, as read'),
      after_C: temperature(0, 110, 'temperature of that'),
      after_plato: extract('plato', 0.5, 40, 'strength after'),
      minutes: quantity('duration', 'min', 5, 600, 'rolling boil between the two'),
      altitude_m: usually(quantity('length', 'm', -500, 5000, 'height above sea level'), '0'),
    },
    results: {
      net_kW: result('kW', 2, 'power into the boil'),
      kg_h: result('kg/h', 2, 'boil-off'),
      extract_drift_pct: result('%', 2, 'extract gained or lost; beyond 3 a reading is wrong'),
    },
    equation: 'kg/h = (mass before - mass after)/hours; kW = kg/h hfg/3600',
    source: 'mass balance; latent heat fitted to IAPWS-IF97',
    example:
      'before_L=977 before_C=99 before_plato=11.05 after_L=905 after_C=99 after_plato=12 minutes=70',
    answer: (v) => {
      const found = netPowerFromBoil(
        { altitudeM: v.altitude_m },
        {
          before: { litres: v.before_L, tC: v.before_C, plato: v.before_plato },
          after: { litres: v.after_L, tC: v.after_C, plato: v.after_plato },
          minutes: v.minutes,
        },
      );
      return numbers({
        net_kW: found.netKW,
        kg_h: found.kgPerH,
        extract_drift_pct: found.extractDriftPct,
      });
    },
  }),
  defineSum({
    name: 'hot-stand',
    what: 'bitterness of hops given when the heat is off',
    arguments: {
      hops_g: quantity('mass', 'g', 0, 1e6, 'hops'),
      alpha_pct: number('%', 0, 30, 'alpha acids today'),
      minutes: quantity('duration', 'min', 0, 600, 'hot stand'),
      t_C: temperature(60, 105, 'mean temperature of the stand'),
      sg: extract('sg', 1, 1.13, 'gravity of the wort'),
      volume_L: quantity('volume', 'L', 0.1, 1e6, 'cold wort'),
      factor: usually(number('', 0.2, 3, 'measured over reckoned, of this kit'), '1'),
    },
    results: {
      ibu: result('mg/L', 1, 'bitterness by the kinetics'),
      ibu_formula: result('mg/L', 1, 'by the kettle formula with its clock slowed'),
      utilisation: result('', 3, 'share of the alpha acids'),
    },
    equation:
      'k1 = 7.9e11 exp(-11858/T), k2 = 4.1e12 exp(-12994/T) a minute; times what is recovered at 60 min and 1.050',
    source:
      'Malowicki & Shellhammer 2005, measured from 90 °C; recovery derived from Tinseth’s formula (common practice)',
    example: 'hops_g=700 alpha_pct=4.5 minutes=30 t_C=92 sg=1.048 volume_L=874',
    answer: (v) => {
      const found = hopResult(
        [{ name: 'hops', grams: v.hops_g, alphaPct: v.alpha_pct, boilMin: 'stand' }],
        {
          sg: v.sg,
          boilC: 100,
          stand: [{ tC: v.t_C, minutes: v.minutes }],
          coldL: v.volume_L,
          factor: { kettle: 1, stand: v.factor },
        },
      );
      return numbers({
        ibu: found.ibu,
        ibu_formula: found.otherIbu,
        utilisation: found.additions[0]?.utilisation ?? null,
      });
    },
  }),
];
