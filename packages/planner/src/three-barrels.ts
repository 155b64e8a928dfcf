/**
 * A three-barrel, two-vessel brewhouse of an invented name and a pale lager on it: the example the
 * facts of the trade are checked on.
 */
import type { Kit } from '@ladlework/brewhouse';
import type { Mash, PlanDocument, Raise } from './document.ts';

export const THREE_BARRELS: Kit = {
  id: 'k-weir',
  name: 'Weirside three-barrel',
  altitudeM: 220,
  airC: 17,
  vessels: [
    {
      id: 'tun',
      name: 'mash tun',
      role: 'mash-tun',
      brimL: 430,
      diameterM: 0.84,
      wallKJK: 26,
      lossWK: 8,
      lid: true,
      deadL: 6,
    },
    {
      id: 'kettle',
      name: 'kettle',
      role: 'kettle',
      brimL: 520,
      diameterM: 0.82,
      wallKJK: 24,
      lossWK: 14,
      lid: true,
      deadL: 3,
    },
    {
      id: 'stock',
      name: 'stock pot',
      role: 'pot',
      brimL: 40,
      diameterM: 0.36,
      wallKJK: 3,
      lossWK: 6,
      lid: true,
      deadL: 0.3,
    },
  ],
  burners: [
    { id: 'jet', name: 'kettle burner', kind: 'gas-burner', heats: ['kettle'], ratedKW: 55 },
    { id: 'stove', name: 'stove', kind: 'gas-hob', heats: ['stock'], ratedKW: 9 },
  ],
  routes: [
    {
      id: 'bucket',
      name: 'bucket',
      how: 'bucket',
      portionL: 8,
      minutesPerPortion: 0.5,
      openAreaM2: 0.12,
      carrierKJK: 0.7,
      lineL: 0,
      hands: 2,
    },
  ],
  hands: [
    { id: 'B', name: 'brewer' },
    { id: 'H', name: 'helper' },
  ],
  burnersIndoors: true,
};

/** One pull into a vessel, boiled. */
export function pullInto(pot: string, boilMinutes: number, thickness: 'thick' | 'thin'): Raise {
  return {
    by: 'decoction',
    thickness,
    pots: [pot],
    order: 'in-turn',
    ...(thickness === 'thick' ? { pullRest: { tempC: 71, minutes: 10 } } : {}),
    boilMinutes,
  };
}

/** A day on the three barrels: rests with a raise between each. */
export function weirsideDay(
  mash: Pick<Mash, 'rests' | 'raises'> & Partial<Mash>,
  kit: Kit = THREE_BARRELS,
): PlanDocument {
  return {
    kit,
    beer: {
      id: 'b-weir',
      name: 'Weirside pale lager',
      malts: [{ name: 'Pale malt', kg: 72, type: 'base' }],
      mashPh: 5.4,
    },
    mash: { layout: 'carry', tun: 'tun', liquorVessel: 'kettle', liquorLPerKg: 3.6, ...mash },
    day: { startMin: 360, liquorC: 12, gristC: 16, kettleC: 70 },
  };
}

/** 62 to 72 °C in one pull, then out to 76. */
export const ONE_PULL: PlanDocument = weirsideDay({
  rests: [
    { tempC: 62, minutes: 40 },
    { tempC: 72, minutes: 20 },
  ],
  raises: [pullInto('kettle', 15, 'thick')],
});

/** The classic three pulls: 37, 52, 64, 75 °C. */
export const THREE_PULLS: PlanDocument = weirsideDay({
  rests: [
    { tempC: 37, minutes: 20 },
    { tempC: 52, minutes: 25 },
    { tempC: 64, minutes: 30 },
    { tempC: 75, minutes: 10 },
  ],
  raises: [
    pullInto('kettle', 15, 'thick'),
    pullInto('kettle', 15, 'thick'),
    pullInto('kettle', 10, 'thin'),
  ],
});
