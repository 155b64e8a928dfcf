/** Mashing: strike, mixing, the pull and where it lands, standing vessels, lifting. */
import {
  airVapourPressure,
  coolingOff,
  evaporationFlux,
  evaporationRate,
  liftingLimit,
  mixTemperature,
  openSurfaceFlux,
  pullFraction,
  slakingHeat,
  strikeTemperature,
} from '@ladlework/matter';
import { choice, number, quantity, temperature, usually } from './argument.ts';
import { defineSum, numbers, result, type Sum } from './sum.ts';

/** What one Btu/°F and one Btu/(h °F) are in kJ/K and W/K. @source International Table Btu, NIST SP 811 */
const BTU_KJ = 1.05505585262;
const PER_F = { 'BTU/F': BTU_KJ * 1.8 };
const LOSS_PER_F = { 'BTU/(h F)': (BTU_KJ * 1.8) / 3.6 };
const SQUARE_FOOT = { ft2: 0.3048 ** 2, 'sq ft': 0.3048 ** 2 };

const GRIP = choice(['good', 'fair', 'poor'], 'grip');
const heatCapacity = (what: string) => number('kJ/K', 0, 1e6, what, PER_F);

export const MASH_SUMS: readonly Sum[] = [
  defineSum({
    name: 'strike',
    what: 'strike liquor temperature',
    arguments: {
      grist_kg: quantity('mass', 'kg', 0.01, 1e5, 'grist'),
      grist_C: temperature(-20, 60, 'temperature of the grist'),
      moisture_pct: number('%', 0, 15, 'water in the malt'),
      water_kg: quantity('mass', 'kg', 0.01, 1e6, 'strike liquor'),
      tun_kJ_K: heatCapacity('heat capacity of the tun'),
      tun_C: temperature(-20, 110, 'temperature of the tun'),
      to_C: temperature(0, 100, 'rest wanted'),
    },
    results: { t_C: result('°C', 2, 'strike liquor') },
    equation:
      't = to + [grist (1.72 (to - grist_C) - q) + tun (to - tun_C)]/(4.187 water), q = 35.8 exp(-0.126 moisture)',
    source:
      'enthalpy balance; slaking heat fitted to the Brewing Room Book 1984/85, 40 % either way',
    example: 'grist_kg=8 grist_C=18 moisture_pct=4.6 water_kg=28 tun_kJ_K=3 tun_C=20 to_C=52',
    answer: (v) =>
      numbers({
        t_C: strikeTemperature({
          gristKg: v.grist_kg,
          gristC: v.grist_C,
          waterKg: v.water_kg,
          tunKJK: v.tun_kJ_K,
          tunC: v.tun_C,
          toC: v.to_C,
          slakingKJKg: slakingHeat(v.moisture_pct),
        }),
      }),
  }),
  defineSum({
    name: 'mix',
    what: 'two parts of mash run together',
    arguments: {
      main_kJ_K: heatCapacity('heat capacity of the mash in the tun'),
      main_C: temperature(-20, 110, 'temperature of the mash in the tun'),
      pull_kJ_K: heatCapacity('heat capacity of what comes back'),
      pull_C: temperature(-20, 110, 'temperature of what comes back'),
      tun_kJ_K: heatCapacity('heat capacity of the tun'),
    },
    results: { t_C: result('°C', 2, 'the whole mash') },
    equation: 't = [(main + tun) main_C + pull pull_C]/(main + tun + pull)',
    source: 'enthalpy balance',
    example: 'main_kJ_K=90 main_C=58 pull_kJ_K=45 pull_C=90 tun_kJ_K=3',
    answer: (v) =>
      numbers({
        t_C: mixTemperature({
          mainKJK: v.main_kJ_K,
          mainC: v.main_C,
          pullKJK: v.pull_kJ_K,
          pullC: v.pull_C,
          tunKJK: v.tun_kJ_K,
        }),
      }),
  }),
  defineSum({
    name: 'pull',
    what: 'how much to pull, one return, losses given',
    arguments: {
      mash_kJ_K: number('kJ/K', 0.1, 1e6, 'heat capacity of the whole mash', PER_F),
      mash_L: quantity('volume', 'L', 0.1, 1e6, 'volume of the whole mash'),
      tun_kJ_K: heatCapacity('heat capacity of the tun'),
      from_C: temperature(0, 100, 'mash in the tun when the pull comes back'),
      to_C: temperature(0, 100, 'rest wanted'),
      arrive_C: temperature(0, 105, 'the pull as it lands'),
      boiled_off_kg: quantity('mass', 'kg', 0, 1e5, 'water boiled off'),
    },
    results: {
      fraction: result('', 4, 'share of the mash to pull'),
      litres: result('L', 2, 'that is'),
    },
    equation:
      'f = [(mash + tun)(to - from) + 4.187 boiled_off (arrive - to)]/[mash (arrive - from)]',
    source: 'enthalpy balance; without losses the school formula (Metzger 1996)',
    example:
      'mash_kJ_K=130.8 mash_L=33.9 tun_kJ_K=3 from_C=49 to_C=65 arrive_C=88 boiled_off_kg=0.6',
    answer: (v) => {
      const fraction = pullFraction({
        mashKJK: v.mash_kJ_K,
        tunKJK: v.tun_kJ_K,
        fromC: v.from_C,
        toC: v.to_C,
        arriveC: v.arrive_C,
        boiledOffKg: v.boiled_off_kg,
      });
      const note =
        fraction > 1
          ? 'more than the whole mash: no pull that lands at this temperature reaches the rest'
          : undefined;
      return numbers({ fraction, litres: fraction * v.mash_L }, note);
    },
  }),
  defineSum({
    name: 'landing',
    what: 'where a pull lands on a small kit nobody has described',
    arguments: {
      pull_fraction: number('', 0.02, 0.6, 'share of the mash pulled, by volume'),
      from_C: temperature(30, 80, 'rest it is pulled from'),
      minutes_away: quantity(
        'duration',
        'min',
        5,
        240,
        'from the first portion out to the first portion back',
      ),
      boil_C: usually(temperature(80, 102, 'boiling point here'), '100'),
      batch_L: usually(quantity('volume', 'L', 5, 2000, 'beer'), '40'),
      thickness: usually(
        choice(['thick', 'as-it-comes', 'thin'] as const, 'kind of pull'),
        'as-it-comes',
      ),
    },
    results: {
      low_C: result('°C', 1, 'one in ten lands lower'),
      likely_C: result('°C', 1, 'the whole mash, likely'),
      high_C: result('°C', 1, 'one in ten lands higher'),
      textbook_C: result('°C', 1, 'the mixing cross says'),
    },
    equation:
      'heat balance of tun, pot and portions, simulated over the default ensemble; 80 % band; textbook: from + fraction (boil - from)',
    source:
      'simulation; prior 90 ± 4 °C on arrival and 3 ± 2 K slip (our judgement; published allowance 85-90 °C and 5-10 K, Metzger 1996, as the pessimistic end)',
    example: 'pull_fraction=0.333 from_C=62 minutes_away=50',
    answer: async (v) => {
      const { landingOnUnknownKit } = await import('@ladlework/planner');
      const landing = landingOnUnknownKit({
        pullFraction: v.pull_fraction,
        fromC: v.from_C,
        minutesAway: v.minutes_away,
        boilC: v.boil_C,
        batchL: v.batch_L,
        thickness: v.thickness,
      });
      return numbers({
        low_C: landing.lowC,
        likely_C: landing.likelyC,
        high_C: landing.highC,
        textbook_C: landing.textbookC,
      });
    },
  }),
  defineSum({
    name: 'open-surface',
    what: 'what an open surface gives off below the boil, still air',
    arguments: {
      t_C: temperature(0, 110, 'temperature of the surface'),
      air_C: temperature(-30, 60, 'temperature of the air'),
      area_m2: number('m2', 0, 100, 'area of the surface', SQUARE_FOOT),
      humidity_pct: usually(number('%', 0, 100, 'relative humidity of the air'), '50'),
    },
    results: {
      evaporation_W: result('W', 0, 'heat that leaves with the vapour'),
      kg_h: result('kg/h', 3, 'water that leaves'),
      total_W: result('W', 0, 'with convection and radiation'),
    },
    equation: 'q = 107 (ps(t) - p_air) A; total + 12 (t - air) A',
    source:
      'fit to an open-tank heat loss table (common practice), within 2.3 % from 49 to 99 °C; IAPWS-IF97',
    example: 't_C=65.6 air_C=15.6 area_m2=0.16',
    answer: (v) => {
      const vapour = airVapourPressure(v.air_C, v.humidity_pct / 100);
      return numbers({
        evaporation_W: evaporationFlux(v.t_C, vapour) * v.area_m2,
        kg_h: evaporationRate(v.t_C, vapour) * v.area_m2,
        total_W: openSurfaceFlux(v.t_C, v.air_C, vapour) * v.area_m2,
      });
    },
  }),
  defineSum({
    name: 'cooling-off',
    what: 'temperature of a standing vessel after a while',
    arguments: {
      kJ_K: number('kJ/K', 0.01, 1e6, 'heat capacity of content and vessel', PER_F),
      UA_W_K: number('W/K', 0, 1e5, 'loss of the vessel', LOSS_PER_F),
      from_C: temperature(-30, 130, 'temperature at the start'),
      air_C: temperature(-30, 60, 'temperature of the air'),
      minutes: quantity('duration', 'min', 0, 1e5, 'time standing'),
    },
    results: { t_C: result('°C', 2, 'temperature at the end') },
    equation: 't = air + (from - air) exp(-UA minutes 60/(1000 C))',
    source: 'Newton’s law of cooling',
    example: 'kJ_K=134 UA_W_K=5 from_C=66 air_C=20 minutes=60',
    answer: (v) =>
      numbers({
        t_C: coolingOff({
          heatKJK: v.kJ_K,
          uaWK: v.UA_W_K,
          fromC: v.from_C,
          airC: v.air_C,
          minutes: v.minutes,
        }),
      }),
  }),
  defineSum({
    name: 'lift',
    what: 'lifting limit of one repeated lift, indicative',
    arguments: {
      load_kg: quantity('mass', 'kg', 0, 1000, 'load'),
      h_cm: quantity('length', 'cm', 0, 200, 'hands from ankles, forward'),
      v_cm: quantity('length', 'cm', 0, 300, 'hands above the floor at the start'),
      d_cm: quantity('length', 'cm', 0, 300, 'height of the lift'),
      a_deg: number('deg', 0, 180, 'twist of the body'),
      per_min: number('/min', 0, 100, 'lifts a minute'),
      hours: number('h', 0, 8, 'hours of it'),
      coupling: GRIP,
    },
    results: {
      limit_kg: result('kg', 2, 'recommended limit'),
      index: result('', 2, 'load over limit; above 1 is too much'),
    },
    equation: '23 x 25/H x (1 - 0.003 |V - 75|) x (0.82 + 4.5/D) x (1 - 0.0032 A) x F x C',
    source: 'revised NIOSH lifting equation, DHHS (NIOSH) 94-110, rev. 9/2021',
    example: 'load_kg=11.5 h_cm=30 v_cm=10 d_cm=100 a_deg=0 per_min=1 hours=1 coupling=good',
    answer: (v) => {
      const { limitKg, index } = liftingLimit(
        {
          horizontalCm: v.h_cm,
          verticalCm: v.v_cm,
          travelCm: v.d_cm,
          asymmetryDeg: v.a_deg,
          liftsPerMin: v.per_min,
          hours: v.hours,
          coupling: v.coupling,
        },
        v.load_kg,
      );
      const lawful = limitKg > 0 && index !== undefined;
      return numbers(
        { limit_kg: limitKg, index: lawful ? index : null },
        lawful
          ? 'for a steady load on a dry floor; an open hot pot allows less'
          : 'this lift is not to be done at all',
      );
    },
  }),
];
