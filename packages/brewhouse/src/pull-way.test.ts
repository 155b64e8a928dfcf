import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NOMINAL } from './draw.ts';
import type { Kit } from './kit.ts';
import type { Thickness } from './moves.ts';
import { type PullWay, pullWay, pullWayText, SETTLE_MIN } from './pull-way.ts';
import { simulate } from './simulate.ts';
import type { VesselState } from './situation.ts';
import { kitOf, standing } from './testing.ts';
import { liquidVolume, thermalOf } from './thermal.ts';
import { solidToLiquid } from './transfer.ts';

const kit: Kit = kitOf([{ id: 'tun' }, { id: 'pot' }]);

/** A mash of 100 kg dry grist with so much liquor on a kilogram, a third of the grist dissolved. */
function mash(liquorPerKg: number): VesselState {
  const content = { tempC: 62, waterKg: 100 * liquorPerKg, solidsKg: 67, extractKg: 33 };
  return standing(kit, { tun: content }).vessels[0] as VesselState;
}

const thermal = (state: VesselState) => {
  const vessel = kit.vessels.find((v) => v.id === state.vessel);
  if (vessel === undefined) throw new Error('no such vessel');
  return thermalOf(vessel, NOMINAL, kit.airC, 0.05);
};

function wayOf(liquorPerKg: number, litres: number, thickness: Thickness): PullWay {
  const state = mash(liquorPerKg);
  const way = pullWay(state, thermal(state), litres, thickness);
  if (way === undefined) throw new Error('no mash');
  return way;
}

/**
 * Solid and liquid litres in the pot after doing with the mash what the way says, worked out here by
 * hand: what is stirred has the mash's own ratio, what is settled that of the settled mash.
 */
function potAfter(way: PullWay, state: VesselState) {
  const solidL = thermal(state).dryLKg * state.solidsKg;
  let liquidL = liquidVolume(state);
  const topL = way.topUpL?.likely ?? 0;
  const first = way.by === 'stirred' ? topL : 0;
  liquidL -= first;
  const settledLiquidL = (liquidVolume(state) * 2.2) / way.mashLPerKg;
  const bulkLiquidL = way.by === 'settled' ? settledLiquidL : liquidL;
  const share = way.bulkL / (solidL + bulkLiquidL);
  const liquid = share * bulkLiquidL + topL - (way.drainL?.likely ?? 0);
  return { solid: share * solidL, liquid };
}

describe('the way of a pull', () => {
  it('settled thick mash holds as much liquor as the handbooks say', () => {
    const way = wayOf(3.3, 80, 'thick');
    expect(way.by).toBe('settled');
    // Settled thick mash 1.8-2.2 kg/kg: physics.md 2.7. Thick pull 1 qt per lb of grain, 2.1 L/kg:
    // field.md 18, row 3, common practice. Narziss's thick pull 1:2: mash.md 7.
    expect(way.pullLPerKg.low).toBeLessThan(2);
    expect(way.pullLPerKg.likely).toBeGreaterThan(2);
    expect(way.pullLPerKg.likely).toBeLessThanOrEqual(2.2);
    // Settling 5-10 min: field.md 18, row 18, common practice.
    expect(SETTLE_MIN).toBe(10);
    expect(pullWayText(way)).toMatch(
      /^Leave the mash unstirred for the last 10 min, then scoop 80 L/,
    );
  });

  it('a mash already as thick as it settles is stirred up', () => {
    const way = wayOf(2.2, 60, 'thick');
    expect(way).toMatchObject({ by: 'stirred', settleMin: 0, bulkL: 60 });
    expect(pullWayText(way)).toBe('Stir up from the bottom and take it as it stands, 2.2 L/kg.');
  });

  it('a thin pull takes the solids the reference gives it', () => {
    // Thin pull fs 0.05-0.10 beside fw 0.22-0.30: mash.md 7. So 3 to 6 times the mash's own ratio.
    const way = wayOf(3.3, 60, 'thin');
    expect(way.by).toBe('strained');
    expect(way.pullLPerKg.likely / 3.3).toBeGreaterThan(0.22 / 0.1);
    expect(way.pullLPerKg.likely / 3.3).toBeLessThan(0.3 / 0.05);
  });

  it('says how much liquid goes with or without the grain', () => {
    expect(pullWayText(wayOf(3.3, 80, { liquorLPerKg: 1.6 }))).toMatch(
      /scoop \d+ L from below into a strainer and let \d+ L \(\d+ to \d+ L\) of liquid run back/,
    );
    expect(pullWayText(wayOf(3.3, 80, { liquorLPerKg: 2.7 }))).toMatch(
      /^Stir up, take \d+ L as it stands into a strainer and let \d+ L of liquid run back into the mash: that makes 80 L at 2.7 L\/kg.$/,
    );
    expect(pullWayText(wayOf(5, 80, { liquorLPerKg: 2.9 }))).toMatch(
      /from below and top up with \d+ L \(\d+ to \d+ L\) of clear liquid from the top of the mash/,
    );
    expect(pullWayText(wayOf(3.3, 80, { liquorLPerKg: 4.5 }))).toMatch(
      /draw \d+ L of clear liquid from the top, then stir up and take \d+ L as it stands/,
    );
    expect(pullWayText(wayOf(2, 40, { liquorLPerKg: 1.6 }))).toMatch(
      /^Stir up, take \d+ L as it stands into a strainer and let \d+ L of liquid run back/,
    );
  });

  it('done with the hands, it gives the shares the simulation takes', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2, max: 5, noNaN: true }),
        fc.double({ min: 0.8, max: 12, noNaN: true }),
        fc.double({ min: 0.05, max: 0.45, noNaN: true }),
        (liquorPerKg, wanted, part) => {
          const state = mash(liquorPerKg);
          const litres = part * (liquidVolume(state) + thermal(state).dryLKg * state.solidsKg);
          const thickness = { liquorLPerKg: wanted };
          const grainL = thermal(state).dryLKg * state.solidsKg;
          // So thick a pull would need more grist than there is.
          fc.pre(litres < grainL + (liquidVolume(state) * wanted) / liquorPerKg);
          const way = wayOf(liquorPerKg, litres, thickness);
          // As it stands, or strained: nothing is mixed to a ratio.
          if (way.topUpL === undefined && way.drainL === undefined) return;
          const pot = potAfter(way, state);
          expect(pot.solid + pot.liquid).toBeCloseTo(litres, 6);
          // fw = fs r / Rm: mash.md 7.
          const ratio = solidToLiquid(state, thickness, 1);
          const fs = pot.solid / (thermal(state).dryLKg * state.solidsKg);
          const fw = pot.liquid / liquidVolume(state);
          expect(fs / fw).toBeCloseTo(ratio, 6);
          expect(way.bulkL).toBeGreaterThan(0);
        },
      ),
    );
  });

  it('stands on every pull of a simulated day, and on nothing else', () => {
    const opening = standing(kit, {
      tun: { tempC: 62, waterKg: 330, solidsKg: 67, extractKg: 33 },
    });
    const route = kit.routes[0]?.id ?? '';
    const pull = { id: 'p', kind: 'pull', from: 'tun', to: 'pot', route, litres: 90 } as const;
    const moves = [
      { ...pull, thickness: 'thick', hands: [] },
      { id: 'r', kind: 'return', from: 'pot', to: 'tun', route, hands: [] },
    ] as const;
    const trace = simulate(kit, opening, moves);
    expect(trace.moves[0]?.transfer?.way).toMatchObject({ by: 'settled', litres: 90 });
    expect(trace.moves[1]?.transfer?.way).toBeUndefined();
  });

  it('there is none without grist', () => {
    const liquor = { ...mash(3), solidsKg: 0, extractKg: 0 };
    expect(pullWay(liquor, thermal(liquor), 10, 'thick')).toBeUndefined();
  });
});
