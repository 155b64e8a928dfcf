import type { BrewState } from '@ladlework/log';
import type { PlanDocument, Timetable, TimetableActivity } from '@ladlework/planner';
import { planOf } from '../engine/plans.ts';
import { brewName } from '../pages/BrewsPage.tsx';
import { chanceText } from '../pages/plan/day/day-words.ts';
import { hashOf } from '../shell/route.ts';
import { who } from '../shell/settings.ts';
import { clockOf, inPair, show } from '../units/show.ts';
import { beginWork, finishWork } from './actions.ts';
import { FirmButton } from './FirmButton.tsx';
import { through } from './gate/GateSheet.tsx';
import { gateBeforeWork } from './gate/gates.ts';
import { layout, onePart } from './layout.ts';
import { moveIdOf, nextActions, type WorkItem, workAhead } from './progress.ts';
import { brewOf, type Timing } from './timing.ts';
import { careFor } from './work-care.ts';

interface Props {
  readonly timing: Timing;
  readonly nowMs: number;
  /** The brew whose page it is. */
  readonly shownBrew: string;
  /** Moves of the mash on top of the screen or under way; they are not told again. */
  readonly shown: readonly string[];
  /** The mash is over: what is left of the day is offered even when it is not due yet. */
  readonly mashOver: boolean;
  /** Work of this brew that stands on top of the screen with its hops; it is not told again. */
  readonly ownWork: string | undefined;
}

/** Work that is due within this is offered to be taken up [min]. */
const SOON_MIN = 15;
/** Lines of work in view at once. */
const MOST_WORK = 3;

/** Beside the mash: the work that is due, the next two actions, the end of the day, what moved. */
export function DayTiming({ timing, nowMs, shownBrew, shown, mashOver, ownWork }: Props) {
  const { timetable, startMs, progress } = timing;
  if (timing.why !== undefined)
    return (
      <p class="wrong" role="alert">
        <b>No timetable.</b> {timing.why}
      </p>
    );
  if (timetable === undefined) return null;
  const nowMin = (nowMs - startMs) / 60_000;
  const at = (minute: number) => clockOf(startMs + minute * 60_000);
  const mine = (a: TimetableActivity) => !onePart.value || a.hands.some((h) => h.id === who.value);
  const onTop = (a: TimetableActivity) =>
    ownWork !== undefined &&
    brewOf(timing, a)?.brew === shownBrew &&
    (moveIdOf(a) === ownWork || moveIdOf(a).startsWith('hops-'));
  const ahead = workAhead(timetable, progress, nowMin).filter(
    (w) => mine(w.activity) && !onTop(w.activity),
  );
  const underway = ahead.filter((w) => w.state === 'underway');
  const open = ahead.filter((w) => w.state === 'open');
  const due = open.filter(
    (w, k) =>
      (mashOver && k === 0 && brewOf(timing, w.activity)?.brew === shownBrew) ||
      w.activity.startMin <= nowMin + SOON_MIN,
  );
  const next = nextActions(timetable, progress, nowMin, 4)
    .filter((a) => a.moveId === undefined || !shown.includes(a.moveId))
    .slice(0, 2);
  const { robust } = timetable;
  const several = timing.brews.length > 1;
  return (
    <section class="day-timing" aria-label="The rest of the day">
      <p class="timing-line">
        {next.map((a, k) => (
          <span key={a.id}>
            <span class="soft">{k === 0 ? 'then' : 'and'}</span> <b>{inPair(a.name)}</b>{' '}
            <span class="soft">
              at {at(a.startMin)}
              {handsOf(a)}
            </span>
          </span>
        ))}
        <span>
          <span class="soft">all done</span> <b>{at(timetable.finishMin)}</b>
          {robust !== undefined && (
            <span class="soft">
              {' '}
              ({at(robust.finishMin.low)} to {at(robust.finishMin.high)}
              {robust.chance !== undefined && `; in time: ${chanceText(robust.chance)}`})
            </span>
          )}
        </span>
      </p>
      {layout.value !== 'wall' && (
        <ul class="work-due" aria-label="Beside the mash">
          {[...underway, ...due].slice(0, Math.max(MOST_WORK, underway.length)).map((item) => (
            <Work key={item.activity.id} item={item} timing={timing} at={at} />
          ))}
        </ul>
      )}
      <Moved timing={timing} at={at} />
      {several && (
        <p class="timing-line">
          {timing.brews.map((b, k) =>
            b.brew === shownBrew || b.ended !== undefined ? null : (
              <a
                key={b.brew}
                class="btn"
                href={hashOf({ at: b.startedAtMs === undefined ? 'plan' : 'day', id: b.brew })}
              >
                {b.startedAtMs === undefined
                  ? `Start brew ${k + 1} at ${at(beginsAt(timetable, k + 1))}, ${brewName(b)}`
                  : `To brew ${k + 1}, ${brewName(b)}`}
              </a>
            ),
          )}
        </p>
      )}
    </section>
  );
}

/** When the first thing of a brew is due [min after day start]. */
const beginsAt = (timetable: Timetable, brew: number): number =>
  Math.min(...timetable.activities.filter((a) => a.brew === brew).map((a) => a.startMin));

const handsOf = (a: TimetableActivity): string => {
  const busy = a.hands.filter((h) => h.kind === 'busy').map((h) => h.id);
  return busy.length === 0 ? '' : `, ${busy.join(' and ')}`;
};

interface WorkProps {
  readonly item: WorkItem;
  readonly timing: Timing;
  readonly at: (minute: number) => string;
}

function Work({ item, timing, at }: WorkProps) {
  const { activity, state } = item;
  const brew = brewOf(timing, activity);
  const moveId = moveIdOf(activity);
  const name = inPair(activity.name);
  const care = careFor(moveId);
  const opens = state === 'open' && activity.endMin > activity.startMin;
  return (
    <li>
      <span class="timer-what">
        {name}
        <span class="soft">
          {' '}
          {state === 'open'
            ? `at ${at(activity.startMin)}${activity.slackMin >= 1 ? `, may wait ${show('duration', activity.slackMin)}` : ', nothing to spare'}`
            : `until ${at(activity.endMin)}`}
        </span>
      </span>
      {brew !== undefined && (
        <FirmButton
          class="key"
          writes={opens ? 'move-begun' : 'move-done'}
          label={`${name}: ${opens ? 'begin' : 'done'}`}
          onFirm={() =>
            through(brew, gateOf(brew, moveId), () =>
              (opens ? beginWork : finishWork)(brew, moveId),
            )
          }
        >
          {opens ? 'Begin' : 'Done'}
        </FirmButton>
      )}
      {care !== undefined && <span class="work-care">{care}</span>}
    </li>
  );
}

/** Asked when the work is taken up, or when its one tap is made. */
function gateOf(brew: BrewState, moveId: string) {
  if (brew.moves.some((m) => m.moveId === moveId && m.begunAtMs !== undefined)) return undefined;
  const answer = planOf(brew.document as PlanDocument).value;
  return gateBeforeWork(brew, moveId, answer.state === 'here' ? answer.plan : undefined);
}

function Moved({ timing, at }: { timing: Timing; at: (minute: number) => string }) {
  const { moved, letGo, clashes } = timing;
  const [latest, ...older] = moved;
  if (latest === undefined && letGo.length === 0 && clashes.length === 0) return null;
  const line = (m: (typeof moved)[number]) => (
    <li key={m.key}>
      {inPair(m.name)} {at(m.fromMin)} → <b>{at(m.toMin)}</b>{' '}
      <span class="soft">
        {inPair(m.why)}
        {m.more > 0 && `; ${m.more} more by as much`}
      </span>
    </li>
  );
  return (
    <div class="moved">
      {clashes.length > 0 && (
        <ul class="wrong" role="alert">
          <li>The rest of the day cannot be done as asked; this is proven.</li>
          {clashes.map((c) => (
            <li key={c.text}>
              {inPair(c.text)}
              {c.freesAlone && <b> Without this one it fits.</b>}
            </li>
          ))}
        </ul>
      )}
      {letGo.length > 0 && (
        <ul class="plain-list small">
          {letGo.map((c) => (
            <li key={c.text}>Past keeping: {inPair(c.text)}</li>
          ))}
        </ul>
      )}
      {latest !== undefined && (
        <ul class="plain-list small" aria-label="What moved">
          {line(latest)}
        </ul>
      )}
      {older.length > 0 && layout.value === 'full' && (
        <details class="small moved-before">
          <summary>What moved before</summary>
          <ul class="plain-list">{older.map(line)}</ul>
        </details>
      )}
    </div>
  );
}
