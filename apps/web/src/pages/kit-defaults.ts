/** What a vessel or burner is taken to be until the brewer knows better. */
import {
  type Burner,
  estimateVessel,
  type Hand,
  type Kit,
  type Route,
  type RouteHow,
  type Vessel,
  type VesselRole,
  type WallBuild,
} from '@ladlework/brewhouse';

/** Name, brim and build a new vessel of a role starts with. [common practice, no source] */
const ROLE_START: Readonly<
  Record<
    VesselRole,
    {
      name: string;
      brimL: number;
      diameterM: number;
      lid: boolean;
      deadL: number;
      build: WallBuild;
    }
  >
> = {
  'mash-tun': {
    name: 'Tun',
    brimL: 300,
    diameterM: 0.75,
    lid: true,
    deadL: 4,
    build: { sheetMm: 2, insulation: '2 in' },
  },
  'lauter-tun': {
    name: 'Lauter tun',
    brimL: 400,
    diameterM: 0.9,
    lid: true,
    deadL: 6,
    build: { sheetMm: 2, insulation: '2 in' },
  },
  kettle: {
    name: 'Kettle',
    brimL: 450,
    diameterM: 0.8,
    lid: true,
    deadL: 4,
    build: { sheetMm: 3, insulation: 'bare' },
  },
  pot: {
    name: 'Pot',
    brimL: 50,
    diameterM: 0.4,
    lid: true,
    deadL: 0.3,
    build: { sheetMm: 1, insulation: 'bare' },
  },
  'liquor-tank': {
    name: 'Liquor tank',
    brimL: 400,
    diameterM: 0.8,
    lid: true,
    deadL: 3,
    build: { sheetMm: 2, insulation: '2 in' },
  },
  fermenter: {
    name: 'Fermenter',
    brimL: 400,
    diameterM: 0.75,
    lid: true,
    deadL: 3,
    build: { sheetMm: 2, insulation: '2 in' },
  },
};

/** A vessel to begin with; its id is new within the kit. */
export function newVessel(kit: Kit, role: VesselRole): Vessel {
  const start = ROLE_START[role];
  const id = freshName(
    role,
    kit.vessels.map((v) => v.id),
  );
  const names = kit.vessels.map((v) => v.name);
  const { build, ...rest } = start;
  return {
    ...rest,
    ...estimateVessel(start.brimL, start.diameterM, build),
    id,
    name: freshLabel(start.name, names),
    role,
  };
}

/** A burner under whatever can be fired. */
export function newBurner(kit: Kit): Burner {
  const under = kit.vessels.find((v) => v.role === 'kettle' || v.role === 'pot') ?? kit.vessels[0];
  return {
    id: freshName(
      'burner',
      kit.burners.map((b) => b.id),
    ),
    name: freshLabel(
      'Burner',
      kit.burners.map((b) => b.name),
    ),
    kind: 'gas-burner',
    heats: under === undefined ? [] : [under.id],
    ratedKW: 10,
  };
}

/** Portion, pace and surfaces a route starts with. [common practice, no source] */
const ROUTE_START: Readonly<Record<RouteHow, Omit<Route, 'id' | 'how'>>> = {
  ladle: {
    name: 'Ladle',
    portionL: 2,
    minutesPerPortion: 0.2,
    openAreaM2: 0.03,
    carrierKJK: 0.4,
    lineL: 0,
    hands: 1,
  },
  bucket: {
    name: 'Bucket',
    portionL: 8,
    minutesPerPortion: 0.75,
    openAreaM2: 0.08,
    carrierKJK: 0.7,
    lineL: 0,
    hands: 1,
  },
  pump: {
    name: 'Pump',
    portionL: 15,
    minutesPerPortion: 1,
    openAreaM2: 0.02,
    carrierKJK: 4,
    lineL: 1.5,
    hands: 1,
  },
  gravity: {
    name: 'Gravity',
    portionL: 10,
    minutesPerPortion: 1,
    openAreaM2: 0.03,
    carrierKJK: 2,
    lineL: 0.5,
    hands: 1,
  },
};

export function newRoute(kit: Kit, how: RouteHow): Route {
  return {
    ...ROUTE_START[how],
    id: freshName(
      how,
      kit.routes.map((r) => r.id),
    ),
    name: freshLabel(
      ROUTE_START[how].name,
      kit.routes.map((r) => r.name),
    ),
    how,
  };
}

export function newHand(kit: Kit): Hand {
  const letter = ['B', 'H', 'K', 'L', 'M'].find((l) => !kit.hands.some((h) => h.id === l)) ?? 'X';
  const name = letter === 'B' ? 'Brewer' : letter === 'H' ? 'Helper' : `Hand ${letter}`;
  return { id: letter, name };
}

/** A tun, a kettle, a ladle and a brewer: the least that can decoct. */
export function newKit(id: string): Kit {
  let kit: Kit = {
    id,
    name: 'New kit',
    altitudeM: 0,
    airC: 18,
    vessels: [],
    burners: [],
    routes: [],
    hands: [{ id: 'B', name: 'Brewer' }],
    burnersIndoors: true,
  };
  kit = { ...kit, vessels: [newVessel(kit, 'mash-tun')] };
  kit = { ...kit, vessels: [...kit.vessels, newVessel(kit, 'kettle')] };
  return { ...kit, burners: [newBurner(kit)], routes: [newRoute(kit, 'bucket')] };
}

function freshName(base: string, taken: readonly string[]): string {
  if (!taken.includes(base)) return base;
  let n = 2;
  while (taken.includes(`${base}-${n}`)) n += 1;
  return `${base}-${n}`;
}

function freshLabel(base: string, taken: readonly string[]): string {
  if (!taken.includes(base)) return base;
  let n = 2;
  while (taken.includes(`${base} ${n}`)) n += 1;
  return `${base} ${n}`;
}
