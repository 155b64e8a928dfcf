import { expect, it } from 'vitest';
import { parsePlanDocument } from './parse.ts';
import { exampleDocument } from './testing.ts';

type Example = ReturnType<typeof exampleDocument>;
/** The example's lists loosened, so that a case may put anything in. */
// biome-ignore lint/suspicious/noExplicitAny: cases write what the types forbid
type Loose = any;

function contradictions(change: (d: Loose) => void) {
  const document: Example = exampleDocument();
  change(document);
  const result = parsePlanDocument(document);
  return result.ok ? [] : result.errors;
}

const pot = {
  id: 'pot',
  name: 'Pot',
  role: 'pot',
  brimL: 40,
  diameterM: 0.38,
  wallKJK: 3,
  lossWK: 6,
  lid: true,
  deadL: 0.5,
};

it.each<[string, string, (d: Loose) => void]>([
  [
    'two things with one id',
    'kit.burners[0].id',
    (d) => {
      d.kit.burners[0].id = 'tun';
    },
  ],
  [
    'more stays behind than the vessel holds',
    'kit.vessels[0].deadL',
    (d) => {
      d.kit.vessels[0].deadL = '180 L';
    },
  ],
  [
    'a vessel as deep as a well',
    'kit.vessels[0].diameterM',
    (d) => {
      d.kit.vessels[0].diameterM = '15 cm';
    },
  ],
  [
    'a vessel as flat as a tray',
    'kit.vessels[0].diameterM',
    (d) => {
      d.kit.vessels[0].diameterM = '3 m';
    },
  ],
  [
    'a burner under nothing',
    'kit.burners[0].heats[1]',
    (d) => {
      d.kit.burners[0].heats.push('copper');
    },
  ],
  [
    'a water test in a vessel it does not heat',
    'kit.burners[0].waterTest.vessel',
    (d) => {
      d.kit.burners[0].waterTest = { waterL: 100, fromC: 15, toC: 60, minutes: 60, vessel: 'tun' };
    },
  ],
  [
    'a water test over the brim',
    'kit.burners[0].waterTest.waterL',
    (d) => {
      d.kit.burners[0].waterTest = {
        waterL: 300,
        fromC: 15,
        toC: 20,
        minutes: 60,
        vessel: 'kettle',
      };
    },
  ],
  [
    'a water test that cools',
    'kit.burners[0].waterTest.toC',
    (d) => {
      d.kit.burners[0].waterTest = {
        waterL: 100,
        fromC: 60,
        toC: 50,
        minutes: 60,
        vessel: 'kettle',
      };
    },
  ],
  [
    'a water test beyond the rating',
    'kit.burners[0].waterTest.minutes',
    (d) => {
      d.kit.burners[0].waterTest = {
        waterL: 100,
        fromC: 15,
        toC: 80,
        minutes: 5,
        vessel: 'kettle',
      };
    },
  ],
  [
    'vessels with nothing between them',
    'kit.routes',
    (d) => {
      d.kit.routes = [];
    },
  ],
  [
    'a bucket bigger than every vessel',
    'kit.routes[0].portionL',
    (d) => {
      d.kit.routes[0].portionL = 400;
    },
  ],
  [
    'a route for two with one person',
    'kit.routes[0].hands',
    (d) => {
      d.kit.routes[0].hands = 2;
      d.kit.hands.pop();
      d.day.hands = ['B'];
    },
  ],
  [
    'a helper who leaves before coming',
    'kit.hands[1].untilMin',
    (d) => {
      d.kit.hands[1].fromMin = '6 h';
    },
  ],
  [
    'rests out of order',
    'mash.rests[1].tempC',
    (d) => {
      d.mash.rests[1].tempC = '55 °C';
      d.mash.raises[0].pullRest = undefined;
      delete d.mash.raises[0].pullRest;
    },
  ],
  [
    'a raise too few',
    'mash.raises',
    (d) => {
      d.mash.rests.push({ tempC: 77, minutes: 10 });
    },
  ],
  [
    'a tun nobody has',
    'mash.tun',
    (d) => {
      d.mash.tun = 'copper';
    },
  ],
  [
    'liquor that nothing heats',
    'mash.liquorVessel',
    (d) => {
      d.mash.liquorVessel = 'tun';
    },
  ],
  [
    'a route nobody has',
    'mash.pullRoute',
    (d) => {
      d.mash.pullRoute = 'chute';
    },
  ],
  [
    'a pot nobody has',
    'mash.raises[0].pots[0]',
    (d) => {
      d.mash.raises[0].pots = ['copper'];
    },
  ],
  [
    'a pot without a burner',
    'mash.raises[0].pots[0]',
    (d) => {
      d.kit.vessels.push(pot);
      d.mash.raises[0].pots = ['pot'];
    },
  ],
  [
    'a pot beside itself',
    'mash.raises[0].pots[1]',
    (d) => {
      Object.assign(d.mash.raises[0], { pots: ['kettle', 'kettle'], order: 'side-by-side' });
    },
  ],
  [
    'a pull boiled in the tun that holds the rest',
    'mash.raises[0].pots[0]',
    (d) => {
      d.kit.burners[0].heats.push('tun');
      d.mash.raises[0].pots = ['tun'];
    },
  ],
  [
    'a rest in the pull below the rest of the mash',
    'mash.raises[0].pullRest.tempC',
    (d) => {
      d.mash.raises[0].pullRest.tempC = '60 °C';
    },
  ],
  [
    'a kettle mash with nowhere to park',
    'mash.park',
    (d) => {
      d.mash.layout = 'kettle-mash';
      d.mash.tun = 'kettle';
    },
  ],
  [
    'a kettle mash whose first pull leaves the kettle',
    'mash.raises[0].pots',
    (d) => {
      d.kit.vessels.push(pot);
      d.kit.burners[0].heats.push('pot');
      Object.assign(d.mash, { layout: 'kettle-mash', tun: 'kettle', park: 'tun' });
      d.mash.raises[0].pots = ['pot'];
    },
  ],
  [
    'direct heat under a tun without a burner',
    'mash.raises[0].by',
    (d) => {
      d.mash.raises[0] = { by: 'direct-heat' };
    },
  ],
  [
    'liquor cooler than the rest it should reach',
    'mash.raises[0].tempC',
    (d) => {
      d.mash.raises[0] = { by: 'liquor', tempC: '70 °C' };
    },
  ],
  [
    'hands nobody has',
    'day.hands[1]',
    (d) => {
      d.day.hands = ['B', 'Z'];
    },
  ],
  [
    'preheating with more than the tun holds',
    'day.preheatTunL',
    (d) => {
      d.day.preheatTunL = '200 L';
    },
  ],
  [
    'sparge liquor parked where there is no vessel',
    'day.work.parkIn',
    (d) => {
      d.day.work = { parkIn: 'header' };
    },
  ],
  [
    'wort boiled where there is no vessel',
    'day.work.boilIn[1]',
    (d) => {
      d.day.work = { boilIn: ['kettle', 'copper'] };
    },
  ],
  [
    'hops before the boil',
    'day.work.hopsBeforeEndMin[0]',
    (d) => {
      d.day.work = { boilMin: '60 min', hopsBeforeEndMin: ['75 min', '10 min'] };
    },
  ],
  [
    'a break of nobody',
    'day.breaks[0].hand',
    (d) => {
      d.day.breaks = [{ hand: 'Z', minutes: 30, fromMin: 200, untilMin: 400 }];
    },
  ],
  [
    'a break longer than its window',
    'day.breaks[0].untilMin',
    (d) => {
      d.day.breaks = [{ hand: 'B', minutes: '30 min', fromMin: '4 h', untilMin: '4.25 h' }];
    },
  ],
  [
    'a delivery for more hands than there are',
    'day.events[0].hands',
    (d) => {
      d.day.events = [{ name: 'Malt delivery', atMin: '5 h', minutes: '20 min', hands: 3 }];
    },
  ],
  [
    'a delivery for somebody nobody knows',
    'day.events[0].anyOf[1]',
    (d) => {
      d.day.events = [
        { name: 'Malt delivery', atMin: '5 h', minutes: 20, hands: 1, anyOf: ['B', 'Z'] },
      ];
    },
  ],
  [
    'a drained bed that holds more than a flooded one',
    'kit.lauter.floodedLPerKg',
    (d) => {
      d.kit.lauter = { retainedLPerKg: '1.4 L/kg', floodedLPerKg: '1.2 L/kg' };
    },
  ],
  [
    'a boil-off stated twice',
    'kit.boil.boilOffKgPerH',
    (d) => {
      d.kit.boil = { netKW: '9 kW', boilOffKgPerH: 14 };
    },
  ],
  [
    'wort colder than the liquor that cooled it',
    'kit.cooler.log.toC',
    (d) => {
      const log = { wortLMin: 8, liquorLMin: 12, plato: 12, fromC: 96, toC: 11, liquorInC: 13 };
      d.kit.cooler = { how: 'plate', log };
    },
  ],
  [
    'hops before the boil begins',
    'beer.hops[0].boilMin',
    (d) => {
      d.beer.hops = [{ name: 'Northdown', kg: '90 g', alphaPct: '7 %', boilMin: '90 min' }];
      d.day.work = { boilMin: '70 min' };
    },
  ],
  [
    'hop times stated twice',
    'day.work.hopsBeforeEndMin',
    (d) => {
      d.beer.hops = [{ name: 'Northdown', kg: '90 g', alphaPct: '7 %', boilMin: '60 min' }];
      d.day.work = { hopsBeforeEndMin: [45] };
    },
  ],
])('refused: %s', (_, field, change) => {
  const errors = contradictions(change);
  expect(errors.map((e) => e.field)).toEqual([field]);
  expect(errors[0]?.code).toBe('contradiction');
  expect(errors[0]?.message.length).toBeGreaterThan(errors[0]?.field.length ?? 0);
  expect(errors[0]?.allowed).not.toBe('');
});

it.each<[string, (d: Loose) => void]>([
  ['the example', () => {}],
  [
    'a day with work, a delivery, a break and a wished hour',
    (d) => {
      Object.assign(d.day, {
        work: {
          runOffLPerMin: '3 L/min',
          knockOutLPerMin: '2 gal/min',
          grainOutKgPerMin: '2 kg/min',
          boilMin: '75 min',
          hopsBeforeEndMin: ['60 min'],
          boilOffPerHour: '8 %',
          boilIn: ['kettle'],
        },
        events: [{ name: 'Malt delivery', atMin: '5 h', minutes: '20 min', hands: 1 }],
        breaks: [{ hand: 'B', minutes: '30 min', fromMin: '4 h', untilMin: '7 h' }],
        finishByMin: '14 h',
        wishFinishMin: '10 h',
      });
    },
  ],
  [
    'a kettle mash',
    (d) => {
      Object.assign(d.mash, { layout: 'kettle-mash', tun: 'kettle', park: 'tun' });
    },
  ],
  [
    'strike liquor that is hot already',
    (d) => {
      d.kit.vessels.push({ ...pot, id: 'tank', role: 'liquor-tank', brimL: 200, diameterM: 0.6 });
      d.mash.liquorVessel = 'tank';
      d.day.kettleC = '80 °C';
    },
  ],
  [
    'one pot boiled twice, load after load',
    (d) => {
      Object.assign(d.mash.raises[0], { pots: ['kettle', 'kettle'], order: 'in-turn' });
    },
  ],
  [
    'one vessel and no route',
    (d) => {
      d.kit.vessels = [d.kit.vessels[1]];
      d.kit.routes = [];
      Object.assign(d.mash, { tun: 'kettle', rests: [d.mash.rests[0]], raises: [] });
    },
  ],
  [
    'a beer with hops, sugar and yeast on a kit with bed, boil, cooler and liquor',
    (d) => {
      Object.assign(d.kit, {
        lauter: { stages: 1.7, retainedLPerKg: '1.1 L/kg', underL: '3 L' },
        boil: { boilOffKgPerH: 14, trubShare: '2 %', hopKeepsLPerKg: '6 L/kg' },
        cooler: { how: 'plate', uaWK: '2.4 kW/K', liquorLMin: '5 gal/min', lossShare: '1.5 %' },
        liquor: {
          report: {
            calciumMgL: '52 mg/L',
            magnesiumMgL: 12,
            sodiumMgL: 18,
            chlorideMgL: 24,
            sulphateMgL: 45,
            alkalinityMgLCaCO3: 130,
            ph: 7.4,
          },
          salts: [{ salt: 'gypsum' }, { salt: 'calciumChloride', purity: '74 %' }],
          acid: 'lactic88',
        },
      });
      Object.assign(d.beer, {
        target: {
          tankL: '1 bbl',
          extract: { by: 'weight', plato: 12 },
          ibu: 28,
          attenuationPct: '80 %',
          liquor: { calciumMgL: '80 mg/L' },
        },
        hops: [
          { name: 'Hallertau', kg: '3 oz', alphaPct: '4.5 %', ageDays: 90, boilMin: '60 min' },
          { name: 'Hallertau', kg: '60 g', alphaPct: '4.5 %', boilMin: 'stand' },
        ],
        sugars: [{ name: 'Beet sugar', kg: '1 kg', extractShare: '99 %' }],
        yeast: { name: 'House lager', kind: 'lager', generation: 3, pitchC: '8 °C' },
      });
    },
  ],
  // 100 L by 65 K at 18 kW: 27.2 MJ, is 25 min (4.18 kJ/(kg K) for water, from memory).
  [
    'a water test the rating just allows',
    (d) => {
      d.kit.burners[0].waterTest = {
        waterL: 100,
        fromC: 15,
        toC: 80,
        minutes: 26,
        vessel: 'kettle',
      };
    },
  ],
])('taken: %s', (_, change) => {
  expect(contradictions(change)).toEqual([]);
});
