/** A brew file for tests of this room and of those above it. */
import type { Probe } from '@ladlework/log';

/** One pull on two vessels, written as a brewer would: text with units. */
export function exampleDocument() {
  return {
    kit: {
      id: 'two-vessels',
      name: 'Two vessels',
      altitudeM: '240 m',
      airC: '18 °C',
      vessels: [
        {
          id: 'tun',
          name: 'Mash tun',
          role: 'mash-tun',
          brimL: '180 L',
          diameterM: '60 cm',
          wallKJK: '9 kJ/K',
          lossWK: '4 W/K',
          lid: true,
          deadL: '3 L',
        },
        {
          id: 'kettle',
          name: 'Kettle',
          role: 'kettle',
          brimL: '50 gal',
          diameterM: '24 in',
          wallKJK: 14,
          lossWK: 12,
          lid: true,
          deadL: 4,
        },
      ],
      burners: [
        {
          id: 'ring',
          name: 'Gas ring',
          kind: 'gas-burner',
          heats: ['kettle'],
          ratedKW: '18 kW',
          efficiency: '45 %',
        },
      ],
      routes: [
        {
          id: 'bucket',
          name: 'Bucket',
          how: 'bucket',
          portionL: '10 L',
          minutesPerPortion: '1 min',
          openAreaM2: '0.07 m2',
          carrierKJK: '0.9 kJ/K',
          lineL: 0,
          hands: 1,
        },
      ],
      hands: [
        { id: 'B', name: 'Brewer' },
        { id: 'H', name: 'Helper', fromMin: 0, untilMin: '5 h' },
      ],
      burnersIndoors: true,
    },
    beer: {
      id: 'pale-lager',
      name: 'Pale lager',
      malts: [
        {
          name: 'Pale malt',
          lot: '26-114',
          kg: '32 kg',
          type: 'base',
          certificate: { moisturePct: '4.4 %', extractFinePct: 81.2, diastaticWk: 260 },
        },
        { name: 'Caramel malt', kg: '4 lb', type: 'caramel' },
      ],
      mashPh: 5.4,
    },
    mash: {
      layout: 'carry',
      tun: 'tun',
      liquorVessel: 'kettle',
      liquorLPerKg: '3.5 L/kg',
      rests: [
        { tempC: '62 °C', minutes: '40 min', pullAfterMin: 20 },
        { tempC: '72 °C', minutes: '30 min' },
      ],
      raises: [
        {
          by: 'decoction',
          thickness: 'thick',
          pots: ['kettle'],
          order: 'in-turn',
          pullRest: { tempC: '72 °C', minutes: '10 min' },
          boilMinutes: '15 min',
        },
      ],
      reserve: '15 %',
    },
    day: {
      startMin: '06:00',
      liquorC: '12 °C',
      gristC: '17 °C',
      preheatTunL: '20 L',
      hands: ['B', 'H'],
    },
  };
}

/** A tun thermometer, calibrated in ice water and at the boil. */
export function exampleProbe(change: Partial<Probe> = {}): Probe {
  return {
    id: 'p',
    name: 'Tun probe',
    kit: 'k1',
    vessel: 'tun',
    what: 'temp',
    unit: '°C',
    sd: 0.5,
    points: [
      { shows: 0.6, is: 0, by: 'ice' },
      { shows: 99, is: 99.4, by: 'boiling' },
    ],
    offset: 0,
    topic: 'brewhouse/tun/temperature',
    token: 1,
    ...change,
  };
}
