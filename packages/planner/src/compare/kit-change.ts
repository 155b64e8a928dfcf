/** One thing of the kit, the place or the brew changed: the document as it would be with it. */
import {
  type Burner,
  burnerPowerKW,
  type Kit,
  type Route,
  type Vessel,
} from '@ladlework/brewhouse';
import { inRange } from '@ladlework/matter';
import { potOf, withTwin } from '../changes.ts';
import { burnerFor, UnknownName, vesselOf } from '../day.ts';
import type { PlanDocument, Raise } from '../document.ts';

/** What is changed; ids are those of the kit. */
export type KitChange =
  /** Rated input [kW], 0.2-500. */
  | { readonly what: 'burner-power'; readonly burner: string; readonly ratedKW: number }
  /** Brim [L], 1-20 000; shape and make stay. */
  | { readonly what: 'pot-volume'; readonly vessel: string; readonly brimL: number }
  /** Heat loss, lid on [W/K], 0-500. */
  | { readonly what: 'insulation'; readonly vessel: string; readonly lossWK: number }
  /** A pot like this one on a burner of its own; pulls go into both, side by side. */
  | { readonly what: 'second-pot'; readonly like: string }
  /** Pulls and returns by pump [L/min], 1-500. */
  | { readonly what: 'pump'; readonly litresPerMin: number }
  /** Heat at the vessel that holds the mash [kW], 0.2-500; the last raise is made with it. */
  | { readonly what: 'jacket'; readonly vessel: string; readonly netKW: number }
  /** One more pair of hands, the whole day. */
  | { readonly what: 'helper' }
  /** Height above the sea [m], -500 to 5000. */
  | { readonly what: 'altitude'; readonly altitudeM: number }
  /** All malt times this, 0.2-5. */
  | { readonly what: 'batch-size'; readonly factor: number };

/** Pump for mash beside the litres a minute: hose and splash. Our judgement, the order of the examples'. */
const PUMP = { openAreaM2: 0.03, carrierKJK: 2, lineL: 3, hands: 1 } as const;
const PUMP_ID = 'added-pump';
const JACKET_ID = 'added-jacket';

/**
 * The document with one change.
 * @param document the brewer's own plan
 * @param change what is changed, in the ranges of its kind
 * @returns a document that can be planned as it stands; the mash uses what was added
 * @throws UnknownName when the change names what the kit does not have; OutOfRange outside the ranges
 */
export function changedDocument(document: PlanDocument, change: KitChange): PlanDocument {
  const { kit, mash } = document;
  const withKit = (more: Partial<Kit>): PlanDocument => ({ ...document, kit: { ...kit, ...more } });
  switch (change.what) {
    case 'burner-power': {
      const own = burnerOf(kit, change.burner);
      const ratedKW = inRange(`power of ${own.name}`, change.ratedKW, 0.2, 500, 'kW');
      // A water test speaks of the old burner; what it showed of the efficiency stays true.
      const { waterTest: _old, ...rest } = own;
      const efficiency = Math.min(1, burnerPowerKW(own, kit) / own.ratedKW);
      const stronger: Burner = { ...rest, ratedKW, efficiency };
      return withKit({ burners: kit.burners.map((b) => (b.id === own.id ? stronger : b)) });
    }
    case 'pot-volume': {
      const own = vesselOf(kit, change.vessel);
      const brimL = inRange(`volume of ${own.name}`, change.brimL, 1, 20_000, 'L');
      return withKit({ vessels: replaced(kit, { ...own, ...potOf(own, brimL), name: own.name }) });
    }
    case 'insulation': {
      const own = vesselOf(kit, change.vessel);
      const lossWK = inRange(`heat loss of ${own.name}`, change.lossWK, 0, 500, 'W/K');
      return withKit({ vessels: replaced(kit, { ...own, lossWK }) });
    }
    case 'second-pot': {
      const twin = withTwin(kit, vesselOf(kit, change.like));
      const raises = mash.raises.map((raise): Raise => {
        if (raise.by !== 'decoction' || !raise.pots.includes(change.like)) return raise;
        return { ...raise, pots: [...new Set([...raise.pots, twin.id])], order: 'side-by-side' };
      });
      return { ...document, kit: twin.kit, mash: { ...mash, raises } };
    }
    case 'pump': {
      const portionL = inRange('pump', change.litresPerMin, 1, 500, 'L/min');
      const pump: Route = {
        id: PUMP_ID,
        name: 'Pump',
        how: 'pump',
        portionL,
        minutesPerPortion: 1,
        ...PUMP,
      };
      const routes = [...kit.routes, pump];
      return { ...document, kit: { ...kit, routes }, mash: { ...mash, pullRoute: PUMP_ID } };
    }
    case 'jacket': {
      const { id, name } = vesselOf(kit, change.vessel);
      const ratedKW = inRange(`heat at ${name}`, change.netKW, 0.2, 500, 'kW');
      const jacket: Burner = {
        id: JACKET_ID,
        name: `Jacket of ${name}`,
        kind: 'steam-jacket',
        heats: [id],
        ratedKW,
        efficiency: 1,
      };
      const last = mash.raises.length - 1;
      const raises = mash.raises.map((r, i): Raise => (i === last ? { by: 'direct-heat' } : r));
      const burners = [...kit.burners, jacket];
      return { ...document, kit: { ...kit, burners }, mash: { ...mash, raises } };
    }
    case 'helper': {
      const id = freeLetter(kit);
      const hands = [...kit.hands, { id, name: 'Helper' }];
      const { hands: atWork } = document.day;
      const day = atWork ? { ...document.day, hands: [...atWork, id] } : document.day;
      return { ...document, kit: { ...kit, hands }, day };
    }
    case 'altitude': {
      const { boilingPointC: _measured, ...elsewhere } = kit;
      const altitudeM = inRange('height', change.altitudeM, -500, 5000, 'm');
      return { ...document, kit: { ...elsewhere, altitudeM } };
    }
    case 'batch-size':
      return resized(document, inRange('batch size', change.factor, 0.2, 5, ''));
  }
}

/**
 * A brew of another size: malt and liquor measured in litres go with the grist.
 * @param document the brew
 * @param factor kilograms of malt against the own, above 0
 */
export function resized(document: PlanDocument, factor: number): PlanDocument {
  const malts = document.beer.malts.map((m) => ({ ...m, kg: m.kg * factor }));
  const raises = document.mash.raises.map((r): Raise => {
    if (r.by !== 'decoction' || r.boilingLiquorL === undefined) return r;
    return { ...r, boilingLiquorL: r.boilingLiquorL * factor };
  });
  return {
    ...document,
    beer: { ...document.beer, malts },
    mash: { ...document.mash, raises },
  };
}

/** The change in words, in metric units; quantity's `sentenceIn` puts them into the brewer's. */
export function changeText({ kit, mash }: PlanDocument, change: KitChange): string {
  const name = (id: string) => vesselOf(kit, id).name;
  switch (change.what) {
    case 'burner-power':
      return `${burnerOf(kit, change.burner).name} of ${change.ratedKW.toFixed(1)} kW`;
    case 'pot-volume':
      return `${name(change.vessel)} of ${change.brimL.toFixed(0)} L`;
    case 'insulation':
      return `${name(change.vessel)} insulated, ${change.lossWK.toFixed(1)} W/K in place of ${vesselOf(kit, change.vessel).lossWK.toFixed(1)}`;
    case 'second-pot':
      return `a second ${name(change.like)} on its own burner`;
    case 'pump':
      return `a pump for mash, ${change.litresPerMin.toFixed(0)} L/min`;
    case 'jacket':
      return `heat at ${name(change.vessel)}, ${change.netKW.toFixed(0)} kW, for the last raise${mash.raises.at(-1)?.by === 'decoction' ? ': one pull fewer, which is another way to brew' : ''}`;
    case 'helper':
      return 'one more pair of hands for the day';
    case 'altitude':
      return `at ${change.altitudeM.toFixed(0)} m above the sea`;
    case 'batch-size':
      return `a brew ${change.factor.toFixed(2)} times as large`;
  }
}

function burnerOf(kit: Kit, id: string): Burner {
  const burner = kit.burners.find((b) => b.id === id);
  if (!burner) throw new UnknownName(`kit ${kit.name} has no burner ${id}`);
  return burner;
}

const replaced = (kit: Kit, vessel: Vessel): Vessel[] =>
  kit.vessels.map((v) => (v.id === vessel.id ? vessel : v));

function freeLetter(kit: Kit): string {
  const taken = new Set(kit.hands.map((h) => h.id));
  const free = [...'HJKLMNPRSTUVWXYZ'].find((c) => !taken.has(c));
  return free ?? `H${kit.hands.length + 1}`;
}

/** How much more of a thing is tried by itself; our choice. */
const TRIED = { power: 1.5, volume: 1.5, loss: 0.5, pumpLMin: 15, batch: 1.25 } as const;
/** Jacket that raises a full tun by about a kelvin a minute with half its heat [kW per litre of brim]; our choice. */
const JACKET_KW_L = 0.04;

/** The changes worth asking about on this kit, one of each kind that it lacks. */
export function usualChanges(document: PlanDocument): KitChange[] {
  const { kit, mash } = document;
  const pulls = mash.raises.flatMap((r) => (r.by === 'decoction' ? [r] : []));
  const pot = pulls[0]?.pots[0] ?? mash.liquorVessel;
  const burner = burnerFor(kit, pot);
  const tun = vesselOf(kit, mash.tun);
  const holds = vesselOf(kit, mash.layout === 'kettle-mash' ? (mash.park ?? mash.tun) : mash.tun);
  const route = kit.routes.find((r) => r.id === mash.pullRoute) ?? kit.routes[0];
  const byHand = route?.how === 'bucket' || route?.how === 'ladle';
  const { brimL } = vesselOf(kit, pot);
  const changes: (KitChange | false | undefined)[] = [
    burner && { what: 'burner-power', burner: burner.id, ratedKW: burner.ratedKW * TRIED.power },
    pulls.length > 0 && { what: 'pot-volume', vessel: pot, brimL: Math.ceil(brimL * TRIED.volume) },
    { what: 'insulation', vessel: holds.id, lossWK: holds.lossWK * TRIED.loss },
    pulls.length > 0 && mash.layout === 'carry' && { what: 'second-pot', like: pot },
    pulls.length > 0 && byHand && { what: 'pump', litresPerMin: TRIED.pumpLMin },
    mash.raises.length > 0 &&
      !burnerFor(kit, tun.id) && {
        what: 'jacket',
        vessel: tun.id,
        netKW: Math.ceil(tun.brimL * JACKET_KW_L),
      },
    { what: 'helper' },
    { what: 'batch-size', factor: TRIED.batch },
  ];
  return changes.filter((c): c is KitChange => typeof c === 'object');
}
