/** Fields of the beer beside its malts: what it is to become, hops, sugars, yeast, titrated lots. */
import * as v from 'valibot';
import { line, measure, plain, quantity, sheet, whole } from './fields.ts';

/** Ions wanted in the brewing liquor; alkalinity as mg/L of CaCO3. */
const LiquorWanted = sheet({
  calciumMgL: v.exactOptional(measure('concentration', 0, 2000)),
  magnesiumMgL: v.exactOptional(measure('concentration', 0, 2000)),
  sodiumMgL: v.exactOptional(measure('concentration', 0, 2000)),
  chlorideMgL: v.exactOptional(measure('concentration', 0, 2000)),
  sulphateMgL: v.exactOptional(measure('concentration', 0, 2000)),
  alkalinityMgLCaCO3: v.exactOptional(measure('concentration', 0, 2000)),
});

export const BeerWantedFields = sheet({
  tankL: v.exactOptional(quantity('volume', 1, 20_000)),
  extract: v.exactOptional(
    v.variant('by', [
      sheet({ by: v.literal('weight'), plato: plain(2, 30, '°P') }),
      sheet({ by: v.literal('volume'), gPer100mL: plain(2, 34, 'g/100 mL') }),
    ]),
  ),
  colourEbc: v.exactOptional(plain(2, 90, 'EBC')),
  ibu: v.exactOptional(plain(0, 150, 'mg/L')),
  attenuationPct: v.exactOptional(measure('percent', 50, 95)),
  mashPh: v.exactOptional(plain(4.8, 6.5)),
  wortPh: v.exactOptional(plain(4.6, 6.2)),
  liquor: v.exactOptional(LiquorWanted),
});

export const HopFields = sheet({
  name: line(80),
  lot: v.exactOptional(line(80)),
  kg: quantity('mass', 0, 1000),
  alphaPct: measure('percent', 0, 30),
  ageDays: v.exactOptional(whole(0, 3650)),
  storedC: v.exactOptional(quantity('temperature', -40, 40)),
  sealed: v.exactOptional(v.boolean()),
  lostIn6MonthsPct: v.exactOptional(measure('percent', 0, 90)),
  boilMin: v.union(
    [v.literal('stand'), quantity('duration', 0, 300)],
    'is neither "stand" nor minutes before the end of the boil',
  ),
});

export const SugarFields = sheet({
  name: line(80),
  kg: quantity('mass', 0, 2000),
  extractShare: measure('share', 0.3, 1),
});

export const YeastFields = sheet({
  name: line(80),
  kind: v.picklist(['ale', 'lager']),
  rate: v.exactOptional(plain(0.1, 5, 'million cells/(mL °P)')),
  generation: v.exactOptional(whole(0, 100)),
  cellsPerML: v.exactOptional(plain(1e6, 1e10, 'cells/mL')),
  viability: v.exactOptional(measure('share', 0.3, 1)),
  cultureL: v.exactOptional(quantity('volume', 0.001, 10_000)),
  pitchC: v.exactOptional(quantity('temperature', 2, 30)),
  oxygenMgL: v.exactOptional(plain(0, 40, 'mg/L')),
});

/** mEq acid per kg and pH about the pH of a mash in distilled water. */
export const TitrationFields = sheet({
  ph: plain(4, 7),
  slope: plain(-200, -5, 'mEq/(kg pH)'),
  curvature: v.exactOptional(plain(-50, 50)),
  third: v.exactOptional(plain(-50, 50)),
});
