/**
 * The brew file: one kit, one beer, one mash, one day; or one kit and several brews. The field names are those of the planner's
 * types; every quantity may be written as text with a unit. The test compares the types.
 */
import * as v from 'valibot';
import {
  BeerWantedFields,
  HopFields,
  SugarFields,
  TitrationFields,
  YeastFields,
} from './brew-file-beer.ts';
import { BoilFields, CoolerFields, LauterFields, LiquorFields } from './brew-file-kit.ts';
import { clockTime, few, line, measure, plain, quantity, sheet, shortId, whole } from './fields.ts';

const Vessel = sheet({
  id: shortId(),
  name: line(80),
  role: v.picklist(['mash-tun', 'lauter-tun', 'kettle', 'pot', 'liquor-tank', 'fermenter']),
  brimL: quantity('volume', 1, 20_000),
  diameterM: quantity('length', 0.1, 4),
  wallKJK: measure('heatCapacity', 0, 5000),
  lossWK: measure('heatLoss', 0, 500),
  lid: v.boolean(),
  deadL: quantity('volume', 0, 2000),
});

const WaterTest = sheet({
  waterL: quantity('volume', 0.5, 20_000),
  fromC: quantity('temperature', 0, 100),
  toC: quantity('temperature', 0, 100),
  minutes: quantity('duration', 0.5, 1440),
  vessel: shortId(),
});

const Burner = sheet({
  id: shortId(),
  name: line(80),
  kind: v.picklist([
    'gas-hob',
    'outdoor-propane',
    'gas-burner',
    'resistance',
    'induction',
    'element',
    'steam-jacket',
  ]),
  heats: few(shortId(), 1, 20),
  ratedKW: quantity('power', 0.2, 500),
  efficiency: v.exactOptional(measure('share', 0.05, 1)),
  waterTest: v.exactOptional(WaterTest),
});

const Route = sheet({
  id: shortId(),
  name: line(80),
  how: v.picklist(['ladle', 'bucket', 'pump', 'gravity']),
  portionL: quantity('volume', 0.1, 500),
  minutesPerPortion: quantity('duration', 0.01, 30),
  openAreaM2: measure('area', 0, 5),
  carrierKJK: measure('heatCapacity', 0, 200),
  lineL: quantity('volume', 0, 200),
  hands: v.picklist([1, 2]),
});

const Hand = sheet({
  id: shortId(),
  name: line(80),
  fromMin: v.exactOptional(quantity('duration', 0, 2880)),
  untilMin: v.exactOptional(quantity('duration', 0, 2880)),
});

export const KitSchema = sheet({
  id: shortId(),
  name: line(80),
  altitudeM: quantity('length', -500, 5000),
  boilingPointC: v.exactOptional(quantity('temperature', 80, 103)),
  airC: quantity('temperature', -20, 50),
  vessels: few(Vessel, 1, 20),
  burners: few(Burner, 0, 20),
  routes: few(Route, 0, 20),
  hands: few(Hand, 1, 10),
  burnersIndoors: v.boolean(),
  lauter: v.exactOptional(LauterFields),
  boil: v.exactOptional(BoilFields),
  cooler: v.exactOptional(CoolerFields),
  liquor: v.exactOptional(LiquorFields),
});

const Certificate = sheet({
  moisturePct: v.exactOptional(measure('percent', 0, 15)),
  extractFinePct: v.exactOptional(measure('percent', 0, 100)),
  extractCoarsePct: v.exactOptional(measure('percent', 0, 100)),
  colourEbc: v.exactOptional(plain(0, 2000, 'EBC')),
  proteinPct: v.exactOptional(measure('percent', 0, 30)),
  kolbachPct: v.exactOptional(measure('percent', 0, 100)),
  diastaticWk: v.exactOptional(plain(0, 1000, '°WK')),
  alphaDu: v.exactOptional(plain(0, 500, 'DU')),
  viscosityMPas: v.exactOptional(plain(1, 5, 'mPa s')),
  friabilityPct: v.exactOptional(measure('percent', 0, 100)),
  betaGlucanMgL: v.exactOptional(plain(0, 3000, 'mg/L')),
  vz45Pct: v.exactOptional(measure('percent', 0, 100)),
  fanMgL: v.exactOptional(plain(0, 1000, 'mg/L')),
});

const lotFields = {
  name: line(80),
  lot: v.exactOptional(line(80)),
  type: v.picklist(['base', 'wheat', 'caramel', 'roast']),
  certificate: v.exactOptional(Certificate),
  titration: v.exactOptional(TitrationFields),
  pricePerKg: v.exactOptional(measure('pricePerMass', 0, 1000)),
  bagKg: v.exactOptional(quantity('mass', 0.5, 1000)),
  inStoreKg: v.exactOptional(quantity('mass', 0, 1e6)),
  mostShare: v.exactOptional(measure('share', 0, 1)),
};

const MaltLot = sheet({ ...lotFields, kg: quantity('mass', 0.001, 10_000) });

const StockLot = sheet(lotFields);

export const PriceListSchema = sheet({
  currency: v.exactOptional(line(12)),
  labourPerHour: v.exactOptional(measure('pricePerHour', 0, 1000)),
  energyPerKWh: v.exactOptional(
    sheet({
      gas: v.exactOptional(measure('pricePerEnergy', 0, 100)),
      propane: v.exactOptional(measure('pricePerEnergy', 0, 100)),
      electricity: v.exactOptional(measure('pricePerEnergy', 0, 100)),
      steam: v.exactOptional(measure('pricePerEnergy', 0, 100)),
    }),
  ),
  maltPerKg: v.exactOptional(measure('pricePerMass', 0, 1000)),
});

/** Beside the brew: what it is paid with and what else is in store. */
const houseFields = {
  prices: v.exactOptional(PriceListSchema),
  stock: v.exactOptional(few(StockLot, 0, 80)),
};

const Kinetics = sheet({
  parameters: v.exactOptional(v.picklist(['recommended', 'plain'])),
  coarseShare: v.exactOptional(plain(0, 0.5)),
  boundLimitDextrinase: v.exactOptional(v.boolean()),
  glucosidase: v.exactOptional(v.boolean()),
  resistantShare: v.exactOptional(plain(0, 0.2)),
});

export const BeerSchema = sheet({
  id: shortId(),
  name: line(80),
  malts: few(MaltLot, 1, 40),
  mashPh: v.exactOptional(plain(4.8, 6.5)),
  addedEnzymes: v.exactOptional(v.boolean()),
  cookedAdjunctKg: v.exactOptional(quantity('mass', 0.001, 10_000)),
  kinetics: v.exactOptional(Kinetics),
  target: v.exactOptional(BeerWantedFields),
  hops: v.exactOptional(few(HopFields, 0, 20)),
  sugars: v.exactOptional(few(SugarFields, 0, 6)),
  yeast: v.exactOptional(YeastFields),
  precursorMgKg: v.exactOptional(plain(0, 30, 'mg/kg')),
});

const Rest = sheet({
  tempC: quantity('temperature', 30, 85),
  minutes: quantity('duration', 0, 720),
  pullAfterMin: v.exactOptional(quantity('duration', 0, 720)),
});

const Thickness = v.union(
  [
    v.picklist(['thick', 'as-it-comes', 'thin']),
    sheet({ liquorLPerKg: quantity('ratio', 0.5, 20) }),
  ],
  'is neither a word for it nor { "liquorLPerKg": … }',
);

const Raise = v.variant('by', [
  sheet({
    by: v.literal('decoction'),
    thickness: Thickness,
    pots: few(shortId(), 1, 8),
    order: v.picklist(['in-turn', 'side-by-side']),
    split: v.exactOptional(v.picklist(['by-room', 'by-power'])),
    pullRest: v.exactOptional(
      sheet({ tempC: quantity('temperature', 40, 85), minutes: quantity('duration', 0, 120) }),
    ),
    boilMinutes: quantity('duration', 0, 240),
    boilingLiquorL: v.exactOptional(quantity('volume', 0, 5000)),
  }),
  sheet({ by: v.literal('liquor'), tempC: v.exactOptional(quantity('temperature', 40, 103)) }),
  sheet({
    by: v.literal('direct-heat'),
    maxKPerMin: v.exactOptional(measure('heatingRate', 0.05, 5)),
  }),
]);

export const MashSchema = sheet({
  layout: v.picklist(['carry', 'kettle-mash']),
  tun: shortId(),
  park: v.exactOptional(shortId()),
  liquorVessel: shortId(),
  liquorLPerKg: quantity('ratio', 1.5, 10),
  rests: few(Rest, 1, 10),
  raises: few(Raise, 0, 9),
  pullRoute: v.exactOptional(shortId()),
  strikeRoute: v.exactOptional(shortId()),
  reserve: v.exactOptional(measure('share', 0, 0.5)),
});

/** Ranges are those of `Work` in the planner, and what no brewhouse exceeds. */
const Work = sheet({
  spargeLPerKg: v.exactOptional(quantity('ratio', 0, 10)),
  spargeC: v.exactOptional(quantity('temperature', 70, 80)),
  spargeBy: v.exactOptional(v.picklist(['continuous', 'batch', 'none'])),
  batches: v.exactOptional(whole(1, 4)),
  holdL: v.exactOptional(quantity('volume', 0, 5000)),
  stopPlato: v.exactOptional(plain(0, 10, '°P')),
  stopPh: v.exactOptional(plain(5, 7)),
  spargePh: v.exactOptional(plain(4.5, 7)),
  parkIn: v.exactOptional(shortId()),
  runOffLPerMin: v.exactOptional(measure('flow', 0.1, 500)),
  lauterRestMin: v.exactOptional(quantity('duration', 0, 120)),
  boilIn: v.exactOptional(few(shortId(), 1, 8)),
  boilMin: v.exactOptional(quantity('duration', 1, 300)),
  boilOffPerHour: v.exactOptional(measure('share', 0.02, 0.2)),
  hopsBeforeEndMin: v.exactOptional(few(quantity('duration', 0, 300), 0, 12)),
  standMin: v.exactOptional(quantity('duration', 0, 240)),
  knockOutLPerMin: v.exactOptional(measure('flow', 0.1, 500)),
  pitchMin: v.exactOptional(quantity('duration', 0, 120)),
  fermenter: v.exactOptional(shortId()),
  grainOutKgPerMin: v.exactOptional(measure('massFlow', 0.1, 200)),
  rinseMin: v.exactOptional(quantity('duration', 0, 60)),
  sanitiseMin: v.exactOptional(quantity('duration', 0, 240)),
  cleanTunMin: v.exactOptional(quantity('duration', 0, 240)),
  cleanKettleMin: v.exactOptional(quantity('duration', 0, 240)),
  tidyMin: v.exactOptional(quantity('duration', 0, 240)),
});

const Event = sheet({
  name: line(80),
  atMin: quantity('duration', 0, 2880),
  minutes: quantity('duration', 0, 720),
  hands: whole(0, 10),
  anyOf: v.exactOptional(few(shortId(), 1, 10)),
});

const Break = sheet({
  hand: shortId(),
  minutes: quantity('duration', 1, 240),
  fromMin: quantity('duration', 0, 2880),
  untilMin: quantity('duration', 0, 2880),
  name: v.exactOptional(line(80)),
});

export const DaySchema = sheet({
  startMin: clockTime(),
  liquorC: quantity('temperature', 0, 95),
  gristC: quantity('temperature', -10, 45),
  airC: v.exactOptional(quantity('temperature', -20, 50)),
  kettleC: v.exactOptional(quantity('temperature', 0, 100)),
  tunC: v.exactOptional(quantity('temperature', -10, 100)),
  preheatTunL: v.exactOptional(quantity('volume', 0, 2000)),
  hands: v.exactOptional(few(shortId(), 1, 10)),
  work: v.exactOptional(Work),
  events: v.exactOptional(few(Event, 0, 20)),
  breaks: v.exactOptional(few(Break, 0, 20)),
  finishByMin: v.exactOptional(quantity('duration', 1, 2880)),
  wishFinishMin: v.exactOptional(quantity('duration', 1, 2880)),
});

export const PlanDocumentSchema = sheet({
  /** Editors find the schema by it; nothing else reads it. */
  $schema: v.exactOptional(v.pipe(v.string(), v.maxLength(300))),
  kit: KitSchema,
  beer: BeerSchema,
  mash: MashSchema,
  day: DaySchema,
  ...houseFields,
});

const BrewOfDay = sheet({ beer: BeerSchema, mash: MashSchema, day: DaySchema });

/** Several brews on one day over one kit, in the order they are begun. */
export const BrewsFileSchema = sheet({
  $schema: v.exactOptional(v.pipe(v.string(), v.maxLength(300))),
  kit: KitSchema,
  brews: few(BrewOfDay, 1, 4),
  ...houseFields,
});
