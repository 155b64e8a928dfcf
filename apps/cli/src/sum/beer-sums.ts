/** Beer: alcohol, carbon dioxide, barrels. */
import {
  barrelEquivalent,
  barrelsForDay,
  beerFromExtracts,
  co2GramsPerLitre,
  co2Volumes,
  dissolvedCo2,
  pressureForCo2,
} from '@ladlework/matter';
import { fail, ok, parseQuantity, type Result } from '@ladlework/quantity';
import { extract, number, optional, quantity, temperature, usually, written } from './argument.ts';
import { defineSum, numbers, result, type Sum } from './sum.ts';

interface Containers {
  readonly count: number;
  readonly litres: number;
}

/** "24x12floz", "12 x 355 ml", "50 L": how many in a case, and what one holds. */
function readContainers(text: string): Result<Containers, string> {
  const match = /^\s*(?:(\d{1,6})\s*[x×*]\s*)?(.+)$/i.exec(text);
  const count = Number(match?.[1] ?? 1);
  const litres = parseQuantity('volume', match?.[2] ?? '', { min: 0.01, max: 1e5 });
  if (count < 1) return fail('holds no container');
  if (!litres.ok) return fail('does not say what one container holds, 0.01 L to 100000 L');
  return ok({ count, litres: litres.value });
}

/** Undoes the last bits that sums of five-decimal numbers leave. */
const toFiveDecimals = (x: number): number => Number(x.toFixed(5));

export const BEER_SUMS: readonly Sum[] = [
  defineSum({
    name: 'alcohol',
    what: 'alcohol and attenuation from two extracts',
    arguments: {
      // Above 1.18, so that an SG typed without its unit is refused and not taken for °P.
      oe: extract('plato', 1.5, 40, 'original extract'),
      ae: extract('plato', -5, 40, 'apparent extract now'),
    },
    results: {
      abv_pct: result('% v/v', 2, 'alcohol by volume at 20 °C'),
      abw_pct: result('% w/w', 2, 'alcohol by weight'),
      re_plato: result('°P', 2, 'real extract'),
      rdf_pct: result('%', 1, 'real degree of fermentation'),
      adf_pct: result('%', 1, 'apparent degree of fermentation'),
    },
    equation:
      'OE = 100 (2.0665 A + RE)/(100 + 1.0665 A) and SG(AE) = SG(RE) + SG(alcohol A) - 1, solved together',
    source:
      'Balling (Nielsen et al., Scandinavian School of Brewing); Tabarié; ethanol by OIML R22; RDF by Speers, citing ASBC Beer-6',
    example: 'oe=12 ae=2.6',
    answer: ({ oe, ae }) => {
      const beer = beerFromExtracts(oe, ae);
      return numbers(
        {
          abv_pct: beer.abvPct,
          abw_pct: beer.abwPct,
          re_plato: beer.rePlato,
          rdf_pct: beer.rdfPct,
          adf_pct: beer.adfPct,
        },
        'a planned figure; a label wants a measurement',
      );
    },
  }),
  defineSum({
    name: 'co2',
    what: 'carbon dioxide in beer at rest under a pressure',
    arguments: {
      t: temperature(0, 30, 'temperature of the beer'),
      pressure_kPa: optional(quantity('pressure', 'kPa', 0, 600, 'gauge pressure')),
      volumes: optional(number('volumes', 0, 7.5, 'carbon dioxide wanted')),
      air_kPa: usually(
        quantity('pressure', 'kPa', 45, 110, 'pressure of the outside air'),
        '101.3',
      ),
    },
    results: {
      volumes: result('volumes', 2, 'carbon dioxide'),
      g_L: result('g/L', 2, 'the same'),
      pressure_kPa: result('kPa', 1, 'gauge pressure'),
    },
    equation: 'g/L = 10 p_abs[bar] exp(-10.73797 + 2617.25/T); 1 volume = 1.977 g/L',
    source: 'Henry’s law with trade constants (common practice), within 0.064 volumes of a chart',
    example: 't=2 volumes=2.5',
    answer: ({ t, pressure_kPa, volumes, air_kPa }) => {
      const tank = { tC: t, barometerKPa: air_kPa };
      if (pressure_kPa !== undefined && volumes === undefined) {
        const gPerL = dissolvedCo2({ ...tank, gaugeKPa: pressure_kPa });
        return numbers({ volumes: co2Volumes(gPerL), g_L: gPerL, pressure_kPa });
      }
      if (volumes !== undefined && pressure_kPa === undefined) {
        const gPerL = co2GramsPerLitre(volumes);
        const gauge = pressureForCo2({ ...tank, gPerL });
        return numbers(
          { volumes, g_L: gPerL, pressure_kPa: gauge },
          gauge < 0
            ? 'open beer at this temperature holds more than that'
            : 'never a setting for a relief valve: that is the vessel’s stamp',
        );
      }
      return {
        ok: false,
        message:
          'give pressure_kPa (0 to 600 kPa) or volumes (0 to 7.5), one of the two and not both.',
      };
    },
  }),
  defineSum({
    name: 'barrels',
    what: 'US barrels in cases or kegs',
    arguments: {
      containers: written(
        'what one case or keg holds',
        'as 12x355ml, 24x12floz or 50L',
        readContainers,
      ),
      count: usually(number('', 1, 1e6, 'cases or kegs'), '1'),
    },
    results: {
      barrels: result('bbl', 5, 'barrels of 31 US gallons'),
      barrels_rounded: result('bbl', 2, 'when these are the day’s removals'),
      barrels_each: result('bbl', 5, 'a case or keg'),
    },
    equation: 'a case: gallons/31 to five decimals; cases added; the day’s sum to two',
    source: '27 CFR 25.156, 25.158',
    example: 'containers=24x12floz count=12',
    answer: ({ containers, count }) => {
      if (!Number.isInteger(count))
        return { ok: false, message: `count is ${count}; allowed: a whole number, 1 to 1000000.` };
      const each = barrelEquivalent(containers.litres, containers.count);
      const barrels = toFiveDecimals(each * count);
      return numbers({ barrels, barrels_rounded: barrelsForDay([barrels]), barrels_each: each });
    },
  }),
];
