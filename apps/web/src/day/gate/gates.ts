/**
 * The few things that spoil the brew when they are forgotten, asked exactly when they matter: when
 * the move that needs them is taken up. Pure.
 */
import type { Kit } from '@ladlework/brewhouse';
import { nameIn } from '@ladlework/brewhouse';
import { type BrewState, GATES, type SummaryMove, valveGate } from '@ladlework/log';
import type { Plan } from '@ladlework/planner';

export interface Gate {
  /** Of the `gate-confirmed` event. */
  readonly code: string;
  readonly question: string;
  readonly yes: string;
}

/** Hot content goes into a vessel for the first time: its outlet is looked at. @source field.md 1.39 */
const INTO: ReadonlySet<string> = new Set(['pull', 'return', 'pour']);

/**
 * What is asked before a move of the mash.
 *
 * @returns nothing when nothing is asked, or it was answered
 */
export function gateBefore(
  brew: BrewState,
  move: Pick<SummaryMove, 'kind' | 'vessel'>,
  kit: Kit | undefined,
): Gate | undefined {
  const answered = (code: string) => brew.gates.some((g) => g.code === code);
  if (move.kind === 'mash-in' && !answered(GATES.falseBottom))
    return {
      code: GATES.falseBottom,
      question: 'Is the false bottom in, and the drain shut?',
      yes: 'Both: in and shut',
    };
  const code = valveGate(move.vessel);
  // The tun was looked at before mashing in.
  const mashed = brew.planSummary?.moves.some(
    (m) => m.kind === 'mash-in' && m.vessel === move.vessel,
  );
  if (INTO.has(move.kind) && mashed !== true && !answered(code))
    return {
      code,
      question: `Is the outlet of ${kit === undefined ? move.vessel : nameIn(kit, move.vessel)} shut?`,
      yes: 'It is shut',
    };
  return undefined;
}

/**
 * What is asked before work beside or after the mash.
 *
 * @param moveId as it is logged
 */
export function gateBeforeWork(
  brew: BrewState,
  moveId: string,
  plan: Plan | undefined,
): Gate | undefined {
  const answered = (code: string) => brew.gates.some((g) => g.code === code);
  const salts = plan?.wortPlan?.liquor?.salts.doses.some((d) => d.grams > 0);
  if (/^sparge(-in)?$/.test(moveId) && salts === true && !answered(GATES.spargeSalts))
    return {
      code: GATES.spargeSalts,
      question: 'Are the salts in the sparge liquor?',
      yes: 'They are in',
    };
  if (/^knock-out\b/.test(moveId) && !answered(GATES.tankSanitised))
    return {
      code: GATES.tankSanitised,
      question: 'Is the tank sanitised, drained, and its outlet shut?',
      yes: 'All three',
    };
  return undefined;
}
