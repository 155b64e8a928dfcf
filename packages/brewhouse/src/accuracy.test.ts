/** The heat side against itself in steps a hundred times as fine: design.md 6 asks for 1e-6. */
import { describe, expect, it } from 'vitest';
import { NOMINAL } from './draw.ts';
import type { Vessel } from './kit.ts';
import { burnerOf, kitOf, standing } from './testing.ts';
import { letStand, type Standing, thermalOf, unheated } from './thermal.ts';
import type { Ledger } from './trace.ts';

const POT = { id: 'pot', brimL: 60, diameterM: 0.45, wallKJK: 3, lossWK: 8 };

function endOf(tempC: number, minutes: number, slices: number, standingAs: Standing) {
  const kit = kitOf([POT], { burners: [burnerOf(5, 'pot')] });
  const state = standing(kit, { pot: { tempC, waterKg: 30, solidsKg: 4, extractKg: 4 } })
    .vessels[0];
  if (!state) throw new Error('no pot');
  const thermal = thermalOf(kit.vessels[0] as Vessel, NOMINAL, 20, 0.045);
  const ledger: Ledger = {
    burnerKJ: 0,
    slakingKJ: 0,
    wallLossKJ: 0,
    surfaceLossKJ: 0,
    vapourKJ: 0,
    vapourKg: 0,
    inKJ: 0,
    inKg: 0,
    outKJ: 0,
    outKg: 0,
    carrierKJ: 0,
  };
  let used = 0;
  for (let i = 0; i < slices; i++)
    used += letStand(state, thermal, minutes / slices, standingAs, ledger, () => undefined);
  return { tempC: state.tempC, waterKg: state.waterKg, used };
}

describe('letting time pass', () => {
  it.each([
    { what: 'an open pot from 98 °C', tempC: 98, minutes: 40, as: unheated(false) },
    { what: 'a covered tun from 65 °C', tempC: 65, minutes: 240, as: unheated(true) },
    { what: 'on a burner', tempC: 20, minutes: 12, as: { lidOn: false, power: () => 5 } },
  ])('$what', ({ tempC, minutes, as }) => {
    const once = endOf(tempC, minutes, 1, as);
    const fine = endOf(tempC, minutes, 4000, as);
    expect(Math.abs(once.tempC / fine.tempC - 1)).toBeLessThan(1e-6);
    expect(Math.abs(once.waterKg / fine.waterKg - 1)).toBeLessThan(1e-6);
  });

  it('hits a temperature to a thousandth of a millikelvin, at the same minute as fine steps', () => {
    const as: Standing = { lidOn: false, power: () => 5, untilC: 71 };
    const once = endOf(40, 120, 1, as);
    expect(Math.abs(once.tempC - 71)).toBeLessThan(1e-6);
    const back = endOf(40, once.used, 4000, { lidOn: false, power: () => 5 });
    expect(Math.abs(back.tempC - 71)).toBeLessThan(7e-5);
  });
});
