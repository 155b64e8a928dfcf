/** Fields of a kit after the mash: bed, boil, cooler, liquor. */
import * as v from 'valibot';
import { few, measure, plain, quantity, sheet } from './fields.ts';

export const LauterFields = sheet({
  stages: v.exactOptional(plain(0.5, 20)),
  retainedLPerKg: v.exactOptional(quantity('ratio', 0.5, 2)),
  floodedLPerKg: v.exactOptional(quantity('ratio', 0.6, 4)),
  underL: v.exactOptional(quantity('volume', 0, 2000)),
  permeabilityM2: v.exactOptional(plain(1e-14, 1e-9, 'm²')),
});

export const BoilFields = sheet({
  netKW: v.exactOptional(quantity('power', 0.1, 1000)),
  boilOffKgPerH: v.exactOptional(plain(0.2, 1600, 'kg/h')),
  trubShare: v.exactOptional(measure('share', 0, 0.2)),
  hopKeepsLPerKg: v.exactOptional(quantity('ratio', 0, 15)),
  hopFactor: v.exactOptional(sheet({ kettle: plain(0.3, 2), stand: plain(0.3, 2) })),
  colourFactor: v.exactOptional(plain(0.5, 2)),
});

const cooler = {
  uaWK: v.exactOptional(measure('heatTransfer', 10, 1e6)),
  liquorLMin: v.exactOptional(measure('flow', 0.1, 1e4)),
  lossShare: v.exactOptional(measure('share', 0, 0.3)),
};

const PlateLog = sheet({
  wortLMin: measure('flow', 0.1, 1e4),
  liquorLMin: measure('flow', 0.1, 1e4),
  plato: plain(0, 40, '°P'),
  fromC: quantity('temperature', 40, 105),
  toC: quantity('temperature', 1, 60),
  liquorInC: quantity('temperature', 0, 40),
});

export const CoolerFields = v.variant('how', [
  sheet({
    ...cooler,
    how: v.literal('plate'),
    mostWortLMin: v.exactOptional(measure('flow', 0.1, 1e4)),
    log: v.exactOptional(PlateLog),
  }),
  sheet({ ...cooler, how: v.literal('coil') }),
]);

/** A water report; alkalinity as mg/L of CaCO3. */
const Report = sheet({
  calciumMgL: measure('concentration', 0, 2000),
  magnesiumMgL: measure('concentration', 0, 2000),
  sodiumMgL: measure('concentration', 0, 2000),
  potassiumMgL: v.exactOptional(measure('concentration', 0, 2000)),
  chlorideMgL: measure('concentration', 0, 2000),
  sulphateMgL: measure('concentration', 0, 2000),
  nitrateMgL: v.exactOptional(measure('concentration', 0, 2000)),
  alkalinityMgLCaCO3: measure('concentration', 0, 2000),
  ph: plain(5, 10),
});

const ShelfSalt = sheet({
  salt: v.picklist([
    'gypsum',
    'calciumChloride',
    'calciumChlorideAnhydrous',
    'epsomSalt',
    'magnesiumChloride',
    'commonSalt',
    'bakingSoda',
    'chalk',
    'slakedLime',
  ]),
  purity: v.exactOptional(measure('share', 0.3, 1)),
  mostGPerL: v.exactOptional(measure('dose', 0, 5)),
});

export const LiquorFields = sheet({
  report: Report,
  second: v.exactOptional(Report),
  salts: v.exactOptional(few(ShelfSalt, 0, 9)),
  acid: v.exactOptional(v.picklist(['lactic88', 'phosphoric10', 'phosphoric75', 'phosphoric85'])),
});
