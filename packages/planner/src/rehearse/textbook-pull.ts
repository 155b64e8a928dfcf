/** The handbook's pull on the same kit: sized by the mixing cross, all of it returned, nothing read. */
import type { BrewDay } from '../day.ts';
import type { PullGroup } from '../live-returns.ts';
import { withoutStop } from '../live-step.ts';
import { type HiddenKit, trueStand } from './hidden-kit.ts';
import { playDay } from './play.ts';

/** Litres a kilogram of grist displaces. @source physics.md 2.5, 0.67 L/kg; field.md 7 */
const GRIST_L_PER_KG = 0.67;
/** No pull leaves less than a tenth of the mash behind. */
const MOST_SHARE = 0.9;

/**
 * Share of the mash the mixing cross says to boil.
 * @param restC the rest left [°C]
 * @param targetC the rest wanted [°C]
 * @param boilC boiling point here [°C]
 * @returns 0-0.9
 * @source mixing cross, physics.md 3.3 (school form, without its allowances)
 * @example textbookShare(62, 72, 100) // 0.263
 */
export function textbookShare(restC: number, targetC: number, boilC: number): number {
  return Math.max(0, Math.min(MOST_SHARE, (targetC - restC) / (boilC - restC)));
}

/**
 * Where the textbook pull lands on this kit, begun now.
 * @param kit the hidden kit just before the pull
 * @param group the pull
 * @param nowMin [min after day start]
 * @returns the mash, truly, when all of it is back [°C]
 */
export function textbookOn(kit: HiddenKit, group: PullGroup, nowMin: number): number {
  const { session } = kit;
  const { day } = session;
  const mashL = day.document.mash.liquorLPerKg * day.gristKg + GRIST_L_PER_KG * day.gristKg;
  const share = textbookShare(restLeftC(day, group), group.targetC, day.boilC);
  const own = new Set(session.moves.slice(group.first, group.last + 1).map((m) => m.id));
  let plannedL = 0;
  for (const m of session.moves) if (m.kind === 'pull' && own.has(m.id)) plannedL += m.litres;
  const moves = session.moves.map((m) => {
    if (!own.has(m.id)) return m;
    if (m.kind === 'return') return { ...withoutStop(m) };
    if (m.kind !== 'pull') return m;
    // In kettle-mash the pull parks what is not boiled.
    const litres =
      m.to !== group.final.to ? (m.litres / plannedL) * share * mashL : (1 - share) * mashL;
    return { ...m, litres };
  });
  const last = moves[group.last];
  const pulls = session.pulls.map((g) =>
    g === group && last && last.kind === 'return' ? { ...g, final: last } : g,
  );
  const fork: HiddenKit = { ...kit, session: { ...session, moves, pulls } };
  const played = playDay(fork, undefined, { fromMin: nowMin, until: group.final.id });
  return trueStand(played.kit, group.final.to, played.kit.session.lastMin).tempC;
}

/** The rest this pull leaves, as the plan has it. */
function restLeftC(day: BrewDay, group: PullGroup): number {
  const { raises, rests } = day.document.mash;
  let pull = 0;
  for (const [i, raise] of raises.entries()) {
    if (raise.by === 'decoction') pull++;
    if (pull === group.pull) return (rests[i] as { tempC: number }).tempC;
  }
  throw new RangeError(`the day has no pull ${group.pull}`);
}
