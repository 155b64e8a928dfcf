/** What can be told to have gone wrong on this kit now, each in one tap, with a first guess. Pure. */
import type { Kit, Move } from '@ladlework/brewhouse';
import { nameIn } from '@ladlework/brewhouse';
import type { BrewState, MissData, MissState } from '@ladlework/log';
import type { Plan, PlanDocument } from '@ladlework/planner';

/** One button of the sheet. */
export interface Telling {
  readonly key: string;
  /** On the button, and in the record. */
  readonly data: MissData;
}

/** A pot that is late is late by this until somebody says better [min]. */
const LATE_MIN = 15;
/** What is lost at first guess, in portions of the route that carries mash. */
const LOST_PORTIONS = 1;

/**
 * Everything that can be told now.
 *
 * @param who letter of the person at the page; of the others one can have gone
 */
export function tellings(
  brew: BrewState,
  plan: Plan | undefined,
  document: PlanDocument,
  who: string,
): Telling[] {
  const { kit } = document;
  const tun = restTun(document);
  const pot = potInUse(brew, plan, document);
  const lostL = LOST_PORTIONS * portionL(document);
  const tunName = nameIn(kit, tun);
  const potName = nameIn(kit, pot);
  const about = (code: MissData['code'], text: string, more: Omit<MissData, 'code' | 'text'>) => ({
    key: `${code} ${more.thing ?? more.vessel ?? ''}`,
    data: { code, text, ...more },
  });
  return [
    about('landed-low', `${tunName} landed too low`, { vessel: tun }),
    about('landed-high', `${tunName} landed too high`, { vessel: tun }),
    about('tun-slipped', `${tunName} has slipped`, { vessel: tun }),
    about('pot-late', `${potName} is late`, { vessel: pot, minutes: LATE_MIN }),
    about('spilled', `Spilled from ${potName}`, { vessel: pot, litres: lostL }),
    about('stuck', `Some stayed in ${potName}`, { vessel: pot, litres: lostL }),
    about('scorched', `${potName} scorches`, { vessel: pot }),
    about('boiled-over', `${potName} boiled over`, { vessel: pot, litres: lostL }),
    about('iodine-blue', `Iodine is blue in ${tunName}`, { vessel: tun }),
    ...kit.burners.map((b) =>
      about('burner-out', `${b.name} is out`, { thing: b.id, vessel: b.heats[0] ?? pot }),
    ),
    ...kit.routes
      .filter((r) => r.how === 'pump')
      .map((r) => about('pump-dead', `${r.name} is dead`, { thing: r.id })),
    ...kit.hands
      .filter((h) => h.id !== who)
      .map((h) => about('helper-gone', `${h.name} is gone`, { thing: h.id })),
  ];
}

const restTun = ({ mash }: PlanDocument): string =>
  mash.layout === 'kettle-mash' && mash.park !== undefined ? mash.park : mash.tun;

/** The pot something is done with now, else the one that boils the pulls. */
function potInUse(brew: BrewState, plan: Plan | undefined, document: PlanDocument): string {
  const tun = restTun(document);
  const underway = underwayMoves(brew, plan);
  const cooking = underway.find((m) => 'burner' in m && m.vessel !== tun);
  if (cooking !== undefined && 'vessel' in cooking) return cooking.vessel;
  for (const raise of document.mash.raises)
    if (raise.by === 'decoction' && raise.pots[0] !== undefined) return raise.pots[0];
  return document.mash.liquorVessel;
}

/** Whole moves that are going on. */
export function underwayMoves(brew: BrewState, plan: Plan | undefined): Move[] {
  return (plan?.moves ?? []).flatMap(({ move }) => (brew.underway.includes(move.id) ? [move] : []));
}

function portionL({ kit, mash }: PlanDocument): number {
  const route = kit.routes.find((r) => r.id === mash.pullRoute) ?? kit.routes[0];
  return route === undefined || route.how === 'pump' || route.how === 'gravity'
    ? 10
    : route.portionL;
}

/** Litres, or minutes, a first guess can be put right to. */
export function amountsOf(miss: MissData, kit: Kit): readonly number[] {
  if (miss.minutes !== undefined && miss.litres === undefined) return [5, 10, 15, 30, 45];
  if (miss.litres === undefined) return [];
  const brimL = kit.vessels.find((v) => v.id === miss.vessel)?.brimL ?? 100;
  const steps = [0.01, 0.03, 0.06, 0.12, 0.25].map((share) => round(share * brimL));
  return [...new Set([...steps, miss.litres])].sort((a, b) => a - b);
}

const round = (x: number): number => (x < 3 ? Math.round(2 * x) / 2 || 0.5 : Math.round(x));

/** Misses that stay so until somebody says that they are put right. */
const LASTS: ReadonlySet<MissData['code']> = new Set([
  'pump-dead',
  'burner-out',
  'helper-gone',
  'scorched',
  'pot-late',
]);

/** What is still out. */
export function openMisses(brew: BrewState): MissState[] {
  return brew.misses.filter((m) => LASTS.has(m.code) && m.over === undefined);
}
