import {
  type Kit,
  type Move,
  moveText,
  type PullWay,
  pullWayText,
  VERB,
} from '@ladlework/brewhouse';
import type { BrewState } from '@ladlework/log';
import type { Caution, LandingForecast, MoveForecast, ReturnGuide } from '@ladlework/planner';
import type { ComponentChildren } from 'preact';
import { say } from '../units/say.ts';
import { clockOf, inPair, show } from '../units/show.ts';
import { cardSay } from './card-say.ts';
import { countdown } from './countdown.ts';
import { FirmButton } from './FirmButton.tsx';
import { forecastLine } from './forecast-text.ts';
import {
  guideHead,
  keepBack,
  ofAll,
  oneMore,
  type Portion,
  portionOf,
  portionText,
  soFar,
  wayOf,
} from './guide-text.ts';
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
  /** For a pull: how to take it from the mash as it stands. */
  readonly way: PullWay | undefined;
  readonly guide: ReturnGuide | undefined;
  readonly landing: LandingForecast | undefined;
  /** What carries that return. */
  readonly landingPortion: Portion | undefined;
  /** The move as it is likely to go from here. */
  readonly likely: MoveForecast | undefined;
  /** Looks for a way out of the newest landing; left out when there is none to mend. */
  /** Stands above the buttons: the iodine test, when one is wanted. */
  readonly children: ComponentChildren;
  readonly onMiss: (() => void) | undefined;
  readonly onBegin: () => void;
  readonly onDone: () => void;
  readonly onPortions: (count: number) => void;
}

/** One line: what to do, with how much, by when. */
export function NowCard(props: Props) {
  const { brew, focus, move, kit, nowMs, cautions } = props;
  const hands = focus.move.hands;
  const open = focus.state === 'open';
  const carried =
    move !== undefined && kit !== undefined && 'route' in move
      ? portionOf(kit, move.route)
      : undefined;
  const guide = focus.state === 'underway' ? props.guide : undefined;
  const portion = guide === undefined ? undefined : carried;
  const counted = open ? undefined : carried;
  const way = wayOf(focus.move.kind);
  return (
    <section class={`do ${open ? 'open' : 'on'}`} aria-label="Now">
      <p class="do-key">
        {open ? 'next' : 'now'}
        {hands.length > 0 && <> · {hands.map((h) => nameOf(kit, h)).join(' and ')}</>}
        {' · '}
        {timing(focus, props, nowMs)}
      </p>
      <p class="do-what">
        {guide !== undefined && portion !== undefined
          ? guideHead(guide, portion.how)
          : move !== undefined && kit !== undefined
            ? moveText(move, kit, say)
            : summaryText(focus.move, brew)}
      </p>
      {guide !== undefined && portion !== undefined ? (
        <GuideLine guide={guide} portion={portion} />
      ) : (
        <Wanted focus={focus} likely={props.likely} />
      )}
      {props.way !== undefined && <p class="do-more">{inPair(pullWayText(props.way))}</p>}
      {guide === undefined && counted !== undefined && move !== undefined && (
        <p class="do-how">
          <Count text={countText(focus, move, counted)} />
        </p>
      )}
      {guide === undefined && props.landing !== undefined && (
        <Landing
          landing={props.landing}
          portion={props.landingPortion}
          startMs={brew.startedAtMs ?? nowMs}
          mashedIn={mashedIn(brew)}
        />
      )}
      {cautions.length > 0 && (
        <ul class="chips" aria-label="Take care">
          {cautions.map((c) => (
            <li key={c.code}>{inPair(c.text)}</li>
          ))}
        </ul>
      )}
      {props.children}
      <div class="do-act">
        {counted !== undefined && (
          <>
            <FirmButton
              class="key portion"
              writes="ladles-returned"
              onFirm={() => props.onPortions(1)}
            >
              {oneMore(counted.how, way)}
            </FirmButton>
            <FirmButton
              class="key portion"
              writes="ladles-returned"
              onFirm={() => props.onPortions(3)}
            >
              +3
            </FirmButton>
          </>
        )}
        <FirmButton
          class="key done"
          writes={open ? 'move-begun' : 'move-done'}
          onFirm={open ? props.onBegin : props.onDone}
        >
          {open ? beginVerb(focus) : isPassive(focus.move) ? 'Done' : verbDone(focus)}
        </FirmButton>
        {props.onMiss !== undefined && (
          <FirmButton class="key" writes="miss-mended" onFirm={props.onMiss}>
            Landed off
          </FirmButton>
        )}
        {!open && focus.dueAtMs !== undefined && isPassive(focus.move) && (
          <p class={focus.dueAtMs < nowMs ? 'do-left over' : 'do-left'}>
            <span>{countdown(focus.dueAtMs - nowMs)}</span>
            {focus.dueAtMs < nowMs && <small> over</small>}
          </p>
        )}
      </div>
    </section>
  );
}

/** A count with its number apart: that is what is read from across the room. */
function Count({ text }: { text: string }) {
  const [, number = '', words = text] = /^([\d.]+(?: of [\d.]+)?)(.*)$/.exec(text) ?? [];
  return (
    <>
      <b>{number}</b>
      <strong>{words}</strong>
    </>
  );
}

/** "3 of 8.7 buckets out"; a return whose litres nobody planned is only counted. */
function countText(focus: RunMove, move: Move, portion: Portion): string {
  const count = focus.log?.ladles ?? 0;
  const way = wayOf(move.kind);
  const litres = 'litres' in move ? move.litres : undefined;
  return litres === undefined ? soFar(count, portion.how, way) : ofAll(count, litres, portion, way);
}

const mashedIn = (brew: BrewState): boolean =>
  brew.planSummary?.moves.some(
    (m) =>
      m.kind === 'mash-in' &&
      brew.moves.some((log) => log.moveId === m.id && log.doneAtMs !== undefined),
  ) === true;

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

function timing(focus: RunMove, { brew, run, likely }: Props, nowMs: number): string {
  if (focus.dueAtMs === undefined) {
    const begins = (brew.startedAtMs ?? nowMs) + (likely?.startMin.likely ?? 0) * 60_000;
    if (likely !== undefined && begins > nowMs + 60_000)
      return `at ${clockOf(begins)}, in ${show('duration', (begins - nowMs) / 60_000)}`;
    return run.overdueMin >= 1 ? `due ${show('duration', run.overdueMin)} ago` : 'when ready';
  }
  const left = (focus.dueAtMs - nowMs) / 60_000;
  if (left <= -1) return `over by ${show('duration', -left)}`;
  return `until ${clockOf(focus.dueAtMs)}, ${show('duration', Math.max(0, left))} left`;
}

/** "69.1 settled → 70.4 ± 0.5, wanted 70; keep 3 buckets back, lid on". */
function GuideLine({ guide, portion }: { guide: ReturnGuide; portion: Portion }) {
  return (
    <p class="do-how">
      {cardSay.temp(guide.tunC)} → <b>{cardSay.band(guide.afterC)}</b>{' '}
      <span class="soft">
        wanted {cardSay.target(guide.targetC)};{' '}
        {guide.portionsDone > 0 && `${soFar(guide.portionsDone, portion.how, 'in')}, `}
        {keepBack(guide, portion, (l) => show('volume', l))}
      </span>
    </p>
  );
}

function Landing({
  landing,
  portion,
  startMs,
  mashedIn,
}: {
  landing: LandingForecast;
  portion: Portion | undefined;
  startMs: number;
  mashedIn: boolean;
}) {
  const line = forecastLine(landing, mashedIn, {
    ...cardSay,
    volume: (l) => show('volume', l),
    portions: (n) =>
      portion === undefined ? '' : portionText(Math.round(n * 10) / 10, portion.how),
    clock: (minute) => clockOf(startMs + minute * 60_000),
  });
  return (
    <>
      <p class={line.reaches ? 'do-how' : 'do-how short'}>
        {line.lead} <b>{line.lands}</b> <span class="soft">{line.wanted}</span>
      </p>
      <p class="do-more soft">
        {line.now !== undefined && `${line.now}; `}
        {line.need}
      </p>
    </>
  );
}

/** Moves whose own line says how hot, or that change nothing worth saying. */
const SAYS_NOTHING: ReadonlySet<string> = new Set([
  'fill',
  'rinse',
  'pull',
  'boil',
  'hold',
  'heat',
]);

function Wanted({ focus, likely }: { focus: RunMove; likely: MoveForecast | undefined }) {
  const { kind } = focus.move;
  const { fromC, toC } = likely ?? focus.move;
  if (SAYS_NOTHING.has(kind)) return null;
  return (
    <p class="do-how">
      {kind !== 'mash-in' && kind !== 'preheat' && <>{cardSay.temp(fromC.likely)} → </>}
      <b>{cardSay.band(toC)}</b>
    </p>
  );
}
