import type { Kit, Move } from '@ladlework/brewhouse';
import type { BrewState } from '@ladlework/log';
import type { Caution, ReturnGuide } from '@ladlework/planner';
import { say } from '../units/say.ts';
import { clockOf, show } from '../units/show.ts';
import { moveText, VERB } from '../units/words.ts';
import { countdown } from './countdown.ts';
import { FirmButton } from './FirmButton.tsx';
import { isPassive, type Run, type RunMove } from './run.ts';
import { summaryText } from './standing.ts';

interface Props {
  readonly brew: BrewState;
  readonly run: Run;
  readonly focus: RunMove;
  /** The whole move, once the plan is there. */
  readonly move: Move | undefined;
  readonly kit: Kit | undefined;
  readonly nowMs: number;
  readonly cautions: readonly Caution[];
  readonly guide: ReturnGuide | undefined;
  readonly onBegin: () => void;
  readonly onDone: () => void;
}

/** One line: what to do, with how much, by when. */
export function NowCard(props: Props) {
  const { brew, focus, move, kit, nowMs, cautions, guide } = props;
  const hands = focus.move.hands;
  const open = focus.state === 'open';
  const text =
    guide !== undefined && focus.state === 'underway'
      ? guideText(guide)
      : move !== undefined && kit !== undefined
        ? moveText(move, kit, say)
        : summaryText(focus.move, brew);
  return (
    <section class={`do ${open ? 'open' : 'on'}`} aria-label="Now">
      <p class="do-key">
        {open ? 'next' : 'now'}
        {hands.length > 0 && <> · {hands.map((h) => nameOf(kit, h)).join(' and ')}</>}
        {' · '}
        {timing(focus, props.run, nowMs)}
      </p>
      <p class="do-what">{text}</p>
      <p class="do-how">
        {guide !== undefined && focus.state === 'underway' ? (
          <GuideLine guide={guide} />
        ) : (
          <Wanted focus={focus} note={move?.note} />
        )}
      </p>
      {!open && focus.dueAtMs !== undefined && isPassive(focus.move) && (
        <p class={focus.dueAtMs < nowMs ? 'do-left over' : 'do-left'}>
          <span>{countdown(focus.dueAtMs - nowMs)}</span>{' '}
          <small>{focus.dueAtMs < nowMs ? 'over' : 'left'}</small>
        </p>
      )}
      {cautions.length > 0 && (
        <ul class="chips" aria-label="Take care">
          {cautions.map((c) => (
            <li key={c.code}>{c.text}</li>
          ))}
        </ul>
      )}
      <div class="do-act">
        <FirmButton class="key done" onFirm={open ? props.onBegin : props.onDone}>
          {open ? beginVerb(focus) : isPassive(focus.move) ? 'Done' : `${verbDone(focus)}`}
        </FirmButton>
      </div>
    </section>
  );
}

const nameOf = (kit: Kit | undefined, id: string): string =>
  kit?.hands.find((h) => h.id === id)?.name ?? id;

const beginVerb = (focus: RunMove): string => VERB[focus.move.kind as keyof typeof VERB] ?? 'Begin';

const verbDone = (focus: RunMove): string => {
  switch (focus.move.kind) {
    case 'pull':
      return 'Pulled';
    case 'return':
      return 'Returned';
    case 'mash-in':
      return 'Mashed in';
    case 'pour':
      return 'Poured';
    case 'fill':
      return 'Filled';
    default:
      return 'Done';
  }
};

function timing(focus: RunMove, run: Run, nowMs: number): string {
  if (focus.dueAtMs === undefined) {
    return run.overdueMin >= 1 ? `due ${show('duration', run.overdueMin)} ago` : 'when ready';
  }
  const left = (focus.dueAtMs - nowMs) / 60_000;
  if (left < -0.5) return `over by ${show('duration', -left)}`;
  return `until ${clockOf(focus.dueAtMs)}, ${show('duration', Math.max(0, left))} left`;
}

function guideText(guide: ReturnGuide): string {
  if (guide.action === 'stop') return 'Stop. Stir hard';
  if (guide.action === 'read') return 'Stir, then read the tun';
  const n = guide.morePortions;
  return `${n} more ${n === 1 ? 'portion' : 'portions'}, then stir`;
}

function GuideLine({ guide }: { guide: ReturnGuide }) {
  return (
    <>
      {show('temperature', guide.tunC)} → <b>{show('temperature', guide.afterC.likely)}</b>{' '}
      <span class="soft">
        wanted {show('temperature', guide.targetC, 0)}; {guide.text}
      </span>
    </>
  );
}

function Wanted({ focus, note }: { focus: RunMove; note: string | undefined }) {
  const { fromC, toC, kind } = focus.move;
  return (
    <>
      {kind !== 'fill' && (
        <>
          {show('temperature', fromC.likely)} → <b>{show('temperature', toC.likely)}</b>{' '}
        </>
      )}
      {note !== undefined && <span class="soft">{note}</span>}
    </>
  );
}
