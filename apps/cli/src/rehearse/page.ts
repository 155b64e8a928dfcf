/** A rehearsal as a page for the brewer. */
import type { Plan, PlanDocument, Rehearsal } from '@ladlework/planner';
import { format, formatClock, sentenceIn, type UnitPair } from '@ladlework/quantity';
import { columns } from '../output.ts';

/**
 * Landings beside the textbook's, the time, the faults and how they were met.
 *
 * @param document the day
 * @param plan what was planned
 * @param rehearsal what became of it
 * @param pair the brewer's units
 */
export function rehearsalPage(
  document: PlanDocument,
  plan: Plan,
  rehearsal: Rehearsal,
  pair: UnitPair,
): string {
  const clock = (minute: number) => formatClock(document.day.startMin + minute);
  const degrees = (x: number) => format('temperature', x, pair);
  const off = (x: number) => `${x < 0 ? '' : '+'}${format('temperatureDifference', x, pair)}`;
  const head = ['return', 'target', 'landed', 'off', 'textbook', 'off', 'at'];
  const rows = rehearsal.returns.map((r) => [
    String(r.pull),
    degrees(r.targetC),
    degrees(r.landedC),
    off(r.landedC - r.targetC),
    degrees(r.textbookC),
    off(r.textbookC - r.targetC),
    clock(r.atMin),
  ]);
  const mends = rehearsal.returns.flatMap((r) =>
    r.mends.map((m) => `Return ${r.pull} was mended: ${sentenceIn(m.text, pair)}.`),
  );
  const faults = rehearsal.faults.map((f) => {
    const when = f.atMin === undefined ? 'not met' : clock(f.atMin);
    const how = f.how === undefined ? '' : `; ${f.how}`;
    return [f.fault.name, when, `${sentenceIn(f.text, pair)}${how}`];
  });
  const planned = plan.mashEndMin;
  return [
    `Rehearsal ${rehearsal.seed}: ${document.beer.name} on ${document.kit.name}, a kit like it that nobody has read`,
    rows.length === 0 ? 'The day has no pull to land.' : columns([head, ...rows], '  '),
    ...mends,
    `Mash over at ${clock(rehearsal.finishMin)}; planned ${clock(planned.likely)} (${clock(planned.low)} to ${clock(planned.high)}). ${rehearsal.readings} readings.`,
    faults.length === 0 ? 'No faults were asked for.' : `Faults\n${columns(faults, '  ')}`,
  ]
    .map((part) => `${part}\n`)
    .join('\n');
}
