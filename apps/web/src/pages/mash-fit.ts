/** A beer's mash set onto a kit: which vessel rests, which boils, how it is carried. */
import type { Kit, Thickness, Vessel } from '@ladlework/brewhouse';
import type { Mash, MashRest, Raise } from '@ladlework/planner';

/** Rests and raises a new beer starts with: one pull between two rests, then to the mash-out. */
export function newMash(): Mash {
  return {
    layout: 'carry',
    // Ids that a kit made here has; fitMash finds others on another kit.
    tun: 'mash-tun',
    liquorVessel: 'kettle',
    liquorLPerKg: 3.5,
    rests: [
      { tempC: 62, minutes: 40 },
      { tempC: 72, minutes: 30 },
    ],
    raises: [newRaise('decoction')],
  };
}

/** A raise of a kind with usual values. [common practice, no source] */
export function newRaise(by: Raise['by']): Raise {
  if (by === 'decoction') {
    return {
      by,
      thickness: 'thick',
      pots: ['kettle'],
      order: 'side-by-side',
      pullRest: { tempC: 72, minutes: 10 },
      boilMinutes: 15,
    };
  }
  if (by === 'liquor') return { by };
  return { by };
}

/** Adds a rest above the last one, reached by a pull. */
export function withRest(mash: Mash): Mash {
  const last = mash.rests.at(-1);
  const rest: MashRest = { tempC: Math.min(78, (last?.tempC ?? 60) + 6), minutes: 15 };
  return { ...mash, rests: [...mash.rests, rest], raises: [...mash.raises, newRaise('decoction')] };
}

/** Takes a rest out, and the raise that led to it (or, for the first, the one that led away). */
export function withoutRest(mash: Mash, at: number): Mash {
  const raise = Math.max(0, at - 1);
  return {
    ...mash,
    rests: mash.rests.filter((_, i) => i !== at),
    raises: mash.raises.filter((_, i) => i !== raise),
  };
}

/** The other layout; the vessels that swap their parts are named anew when it meets a kit. */
export function withLayout(mash: Mash, layout: Mash['layout']): Mash {
  if (layout === mash.layout) return mash;
  const { park: _park, ...rest } = mash;
  if (layout === 'carry') return { ...rest, layout, tun: mash.park ?? 'mash-tun' };
  const pot = mash.raises.find((r) => r.by === 'decoction')?.pots[0] ?? 'kettle';
  return { ...rest, layout, tun: pot, park: mash.tun };
}

const byRole = (kit: Kit, ...roles: Vessel['role'][]): Vessel | undefined => {
  for (const role of roles) {
    const found = kit.vessels.find((v) => v.role === role);
    if (found !== undefined) return found;
  }
  return undefined;
};

const fired = (kit: Kit, id: string): boolean => kit.burners.some((b) => b.heats.includes(id));

/**
 * Gives every place of the mash a vessel and a route of this kit. What already names one of the
 * kit's stays; the rest goes to the likeliest.
 */
export function fitMash(mash: Mash, kit: Kit): Mash {
  const has = (id: string | undefined) => kit.vessels.some((v) => v.id === id);
  const kettle = kit.vessels.find((v) => v.role === 'kettle' && fired(kit, v.id));
  const boils = mash.layout === 'kettle-mash';
  const tun =
    has(mash.tun) && (!boils || fired(kit, mash.tun))
      ? mash.tun
      : boils
        ? (kettle?.id ?? '')
        : (byRole(kit, 'mash-tun', 'lauter-tun', 'kettle')?.id ?? '');
  const park =
    has(mash.park) && mash.park !== tun
      ? mash.park
      : kit.vessels.find((v) => v.id !== tun && (v.role === 'mash-tun' || v.role === 'lauter-tun'))
          ?.id;
  const liquor = has(mash.liquorVessel)
    ? mash.liquorVessel
    : (kit.vessels.find((v) => v.role === 'liquor-tank' && fired(kit, v.id))?.id ??
      kit.vessels.find((v) => v.id !== tun && v.role === 'kettle' && fired(kit, v.id))?.id ??
      kit.vessels.find((v) => v.id !== tun && fired(kit, v.id))?.id ??
      tun);
  const pots = potsOf(kit, tun, mash.layout);
  const route = (id: string | undefined) => kit.routes.find((r) => r.id === id)?.id;
  const { park: _park, pullRoute, strikeRoute, ...rest } = mash;
  const keptPull = route(pullRoute);
  const keptStrike = route(strikeRoute);
  return {
    ...rest,
    tun,
    liquorVessel: liquor,
    ...(mash.layout === 'kettle-mash' && park !== undefined ? { park } : {}),
    ...(keptPull === undefined ? {} : { pullRoute: keptPull }),
    ...(keptStrike === undefined ? {} : { strikeRoute: keptStrike }),
    raises: mash.raises.map((raise) => {
      if (raise.by !== 'decoction') return raise;
      const own = raise.pots.filter(
        (id) => has(id) && fired(kit, id) && (boils ? id === tun : id !== tun),
      );
      return { ...raise, pots: own.length > 0 ? own : pots };
    }),
  };
}

/** Vessels that can boil a pull: the mash kettle itself, else the fired pots, else the kettle. */
function potsOf(kit: Kit, tun: string, layout: Mash['layout']): string[] {
  if (layout === 'kettle-mash') return tun === '' ? [] : [tun];
  const can = kit.vessels.filter((v) => v.id !== tun && fired(kit, v.id));
  const kettle = can.find((v) => v.role === 'kettle');
  const pot = can.find((v) => v.role === 'pot');
  const first = kettle ?? pot ?? can[0];
  return first === undefined ? [] : [first.id];
}

/** Words of a thickness choice. */
export type ThicknessWord = 'thick' | 'as-it-comes' | 'thin' | 'ratio';
export const thicknessWord = (t: Thickness): ThicknessWord => (typeof t === 'string' ? t : 'ratio');
export const thicknessFrom = (word: ThicknessWord, before: Thickness): Thickness =>
  word === 'ratio' ? (typeof before === 'string' ? { liquorLPerKg: 2.5 } : before) : word;
