import type { Kit } from '@ladlework/brewhouse';
import { nameIn } from '@ladlework/brewhouse';
import {
  type BrewState,
  gateVessel,
  gateWords,
  type Mark,
  type ReadingWhat,
  workText,
} from '@ladlework/log';
import type { Plan } from '@ladlework/planner';
import { clockOf, inPair, show, showExtract } from '../units/show.ts';
import { wortReadText } from '../wort/words.ts';
import { portionOf, soFar, wayOf } from './guide-text.ts';
import { summaryText } from './standing.ts';

interface Line {
  readonly atMs: number;
  readonly key: string;
  readonly who: string;
  readonly text: string;
  readonly struck: boolean;
}

interface Props {
  readonly brew: BrewState;
  readonly kit: Kit | undefined;
  /** Knows by which route a move is carried. */
  readonly plan: Plan | undefined;
}

/** What was tapped and read, newest first. */
export function DayLog({ brew, kit, plan }: Props) {
  const lines = linesOf(brew, kit, plan);
  return (
    <section class="block daylog">
      <h2>Log</h2>
      {lines.length === 0 ? (
        <p class="soft">Nothing yet.</p>
      ) : (
        <ol class="entries">
          {lines.map((l) => (
            <li key={l.key} class={l.struck ? 'struck' : undefined}>
              <span class="soft">{clockOf(l.atMs)}</span> <b>{l.who}</b> {l.text}
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

function linesOf(brew: BrewState, kit: Kit | undefined, plan: Plan | undefined): Line[] {
  const line = (mark: Mark, text: string, struck = false): Line => ({
    atMs: mark.atMs,
    key: mark.eventId,
    who: mark.who,
    text,
    struck,
  });
  const name = (vessel: string) => (kit === undefined ? vessel : nameIn(kit, vessel));
  return [
    ...brew.readings.map((r) =>
      line(r, `${name(r.vessel)} ${readingText(r.what, r.value)}`, r.standing !== 'holds'),
    ),
    ...brew.moves.flatMap((m) => {
      const move = brew.planSummary?.moves.find((p) => p.id === m.moveId);
      // The doing of a repair stands under its own line.
      const text =
        move === undefined ? (workText(m.moveId) ?? 'Miss mended') : summaryText(move, brew);
      const carried = plan?.moves.find((p) => p.move.id === m.moveId)?.move;
      const portion =
        kit && carried && 'route' in carried ? portionOf(kit, carried.route) : undefined;
      const count = (portions: number) =>
        portion === undefined
          ? `${portions} carried`
          : soFar(portions, portion.how, wayOf(move?.kind ?? 'return'));
      return [
        ...m.begun.map((mark) => line(mark, `${text}: begun`)),
        ...m.ladleMarks.map((mark) => line(mark, count(mark.portions))),
        ...m.done.map((mark) => line(mark, `${text}: done`)),
      ];
    }),
    ...brew.wortReads.map((r) => line(r, wortReadText(r), r.standing !== 'holds')),
    ...brew.kettleChoices.map((m) => line(m, inPair(m.text))),
    ...brew.misses.map((m) => line(m, inPair(m.text))),
    ...brew.misses.flatMap((m) => (m.over ? [line(m.over, `Put right: ${inPair(m.text)}`)] : [])),
    ...brew.plans.flatMap((p) => (p.reason === undefined ? [] : [line(p, inPair(p.reason))])),
    ...brew.gates.flatMap((g) => {
      const said = gateWords(g.code);
      const vessel = gateVessel(g.code);
      if (said === undefined) return [];
      return [line(g, vessel === undefined || !kit ? said : `${said}: ${nameIn(kit, vessel)}`)];
    }),
    ...brew.mends.map((m) => line(m, inPair(m.text))),
    ...brew.notes.map((m) => line(m, m.text)),
  ].sort((a, b) => b.atMs - a.atMs);
}

/** A reading in the chosen pair. */
export function readingText(what: ReadingWhat, value: number): string {
  if (what === 'temp') return show('temperature', value);
  if (what === 'volume') return show('volume', value);
  if (what === 'level') return show('length', value);
  if (what === 'ph') return `pH ${value.toFixed(2)}`;
  if (what === 'gravity') return showExtract(value);
  return value > 0.5 ? 'iodine positive' : 'iodine negative';
}
