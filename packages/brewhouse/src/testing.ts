/** Invented kits and books of heat and mass for the tests of this room. */
import type { Draw } from './draw.ts';
import type { Burner, Kit, Route, Vessel } from './kit.ts';
import type { Situation } from './situation.ts';
import { contentHeatCapacity, massOf, thermalOf } from './thermal.ts';
import type { Ledger } from './trace.ts';

/** A vessel without losses, dead volume or wall: what textbook sums assume. */
const BARE: Omit<Vessel, 'id'> = {
  name: 'bare vessel',
  role: 'mash-tun',
  brimL: 20_000,
  diameterM: 0.4,
  wallKJK: 0,
  lossWK: 0,
  lid: true,
  deadL: 0,
};

/** Everything at once and nothing lost. */
const AT_ONCE: Route = {
  id: 'at-once',
  name: 'at once',
  how: 'gravity',
  portionL: 1e6,
  minutesPerPortion: 0,
  openAreaM2: 0,
  carrierKJK: 0,
  lineL: 0,
  hands: 1,
};

/** A kit of the vessels given, with burners and routes as asked. */
export function kitOf(
  vessels: readonly (Partial<Vessel> & { readonly id: string })[],
  more: {
    burners?: readonly Burner[];
    routes?: readonly Route[];
    airC?: number;
    altitudeM?: number;
  } = {},
): Kit {
  return {
    id: 'k-test',
    name: 'Test bench',
    altitudeM: more.altitudeM ?? 0,
    airC: more.airC ?? 20,
    vessels: vessels.map((v) => ({ ...BARE, ...v })),
    burners: more.burners ?? [],
    routes: more.routes ?? [AT_ONCE],
    hands: [{ id: 'B', name: 'Brewer' }],
    burnersIndoors: false,
  };
}

/** A burner of exactly this net power under the vessels named. */
export function burnerOf(ratedKW: number, ...heats: string[]): Burner {
  return {
    id: `burner-${heats.join('-')}`,
    name: 'Burner',
    kind: 'element',
    heats,
    ratedKW,
    efficiency: 1,
  };
}

/** Liquor and grist standing in one vessel, everything else empty. */
export function standing(
  kit: Kit,
  content: Readonly<
    Record<string, { tempC: number; waterKg?: number; solidsKg?: number; extractKg?: number }>
  >,
): Situation {
  return {
    vessels: kit.vessels.map((v) => ({
      vessel: v.id,
      clockMin: 0,
      tempC: kit.airC,
      waterKg: 0,
      solidsKg: 0,
      extractKg: 0,
      ...content[v.id],
    })),
    freeAtMin: {},
  };
}

/** Heat of content and walls against 0 °C [kJ], and mass of the content [kg], whole brewhouse. */
export function contentOf(kit: Kit, at: Situation, draw: Draw, airC: number, moisture: number) {
  let heatKJ = 0;
  let massKg = 0;
  for (const state of at.vessels) {
    const vessel = kit.vessels.find((v) => v.id === state.vessel) as Vessel;
    const thermal = thermalOf(vessel, draw, airC, moisture);
    heatKJ += (contentHeatCapacity(state, thermal) + thermal.wallKJK) * state.tempC;
    massKg += massOf(state);
  }
  return { heatKJ, massKg };
}

/** What the ledger says came in minus what went out. */
export function netOf(ledger: Readonly<Ledger>) {
  return {
    heatKJ:
      ledger.burnerKJ +
      ledger.slakingKJ +
      ledger.inKJ -
      ledger.wallLossKJ -
      ledger.surfaceLossKJ -
      ledger.vapourKJ -
      ledger.outKJ -
      ledger.carrierKJ,
    massKg: ledger.inKg - ledger.vapourKg - ledger.outKg,
    /** All that moved, for a relative error [kJ]. */
    turnoverKJ: Object.entries(ledger)
      .filter(([key]) => key.endsWith('KJ'))
      .reduce((sum, [, kj]) => sum + Math.abs(kj), 0),
  };
}
