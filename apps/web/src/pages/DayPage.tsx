import type { Kit, Move } from '@ladlework/brewhouse';
import { type BrewState, checkReading, type ReadingWhat } from '@ladlework/log';
import type { Plan, PlanDocument } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { movingNowMs, nowMs } from '../data/clock.ts';
import { brewById, record } from '../data/house.ts';
import { AlarmSheet } from '../day/AlarmSheet.tsx';
import { begin, finish, lastTap, undo } from '../day/actions.ts';
import { countdown } from '../day/countdown.ts';
import { planMinute } from '../day/expect.ts';
import { FirmButton } from '../day/FirmButton.tsx';
import { NowCard } from '../day/NowCard.tsx';
import { NumberPad, type PadReading } from '../day/NumberPad.tsx';
import { alarmsOf, isCarrying, type Run, runOf } from '../day/run.ts';
import { summaryText } from '../day/standing.ts';
import { Timers } from '../day/Timers.tsx';
import { awake, stayAwake } from '../day/wake.ts';
import { planOf } from '../engine/plans.ts';
import { scoreModel } from '../score/model.ts';
import { Score } from '../score/Score.tsx';
import { traceAt } from '../score/trace-at.ts';
import { kept } from '../shell/kept.ts';
import { goTo } from '../shell/location.ts';
import { hashOf } from '../shell/route.ts';
import { NetworkLine, Switches } from '../shell/Shell.tsx';
import { dayMode, pair, pairName, who } from '../shell/settings.ts';
import { say } from '../units/say.ts';
import { clockOf, show } from '../units/show.ts';
import { nameIn } from '../units/words.ts';
import { brewName } from './BrewsPage.tsx';
import { Gone } from './Gone.tsx';
import { attempt, Trouble } from './trouble.tsx';

const seenAlarms = kept<readonly string[]>('alarms-seen', [], (raw) =>
  Array.isArray(raw) && raw.every((key) => typeof key === 'string') ? raw : undefined,
);
/** More than a day's worth of acknowledged alarms is never looked at again. */
const SEEN_KEPT = 200;

export function DayPage({ id }: { id: string }) {
  const brew = brewById(id);
  useEffect(stayAwake, []);
  if (brew === undefined) {
    return (
      <main class="main day" id="main">
        <Gone what="brew" back="#/brews" />
      </main>
    );
  }
  if (brew.startedAtMs === undefined || brew.ended !== undefined) {
    return (
      <main class="main day" id="main">
        <h1>{brewName(brew)}</h1>
        <p>
          {brew.ended === undefined ? 'This brew has not begun.' : 'This brew has ended.'}{' '}
          <a href={hashOf({ at: brew.ended === undefined ? 'plan' : 'record', id })}>
            {brew.ended === undefined ? 'To its plan' : 'To its record'}
          </a>
        </p>
      </main>
    );
  }
  return <Running brew={brew} />;
}

function Running({ brew }: { brew: BrewState }) {
  const now = movingNowMs();
  const run = runOf(brew, now);
  const document = brew.document as PlanDocument | undefined;
  const kit = document?.kit;
  const answer = document === undefined ? undefined : planOf(document).value;
  const plan = answer?.state === 'here' ? answer.plan : undefined;
  const mode = dayMode.value;
  const alarms = alarmsOf(run, now, new Set(seenAlarms.value));
  const alarm = alarms[0];
  const carrying = run.underway.some((m) => isCarrying(m.move));
  return (
    <div class={`day ${mode}`}>
      <DayBar brew={brew} run={run} now={now} />
      <main id="main" tabIndex={-1}>
        <h1 class="vh">{brewName(brew)}, the day</h1>
        <Trouble />
        {run.finished ? (
          <Finished brew={brew} />
        ) : (
          <Now brew={brew} run={run} now={now} plan={plan} kit={kit} />
        )}
        {answer?.state === 'failed' && (
          <p class="wrong" role="alert">
            <b>No plan to draw.</b> {answer.why} The moves below come from the log.
          </p>
        )}
        <Timers
          brew={brew}
          run={run}
          nowMs={now}
          onDone={(m) => attempt('write it down', () => finish(brew, run, m))}
        />
        {plan !== undefined && document !== undefined && mode === 'full' && (
          <DayScore brew={brew} plan={plan} document={document} now={now} />
        )}
        {mode !== 'wall' && <DayLog brew={brew} kit={kit} />}
        <DayTools brew={brew} />
      </main>
      <DayFoot brew={brew} run={run} />
      {alarm !== undefined && (
        <AlarmSheet
          key={alarm.key}
          alarm={alarm}
          text={summaryText(alarm.move, brew)}
          nowMs={now}
          carrying={carrying}
          onSeen={() => {
            seenAlarms.value = [...seenAlarms.value, alarm.key].slice(-SEEN_KEPT);
          }}
        />
      )}
    </div>
  );
}

function DayBar({ brew, run, now }: { brew: BrewState; run: Run; now: number }) {
  return (
    <header class="daybar">
      <a class="btn plain" href="#/today">
        ‹ {brewName(brew)}
      </a>
      <span class="dayclock">{clockOf(now)}</span>
      {dayMode.value === 'wall' && run.focus?.dueAtMs !== undefined && (
        <span class="wallclock">{countdown(run.focus.dueAtMs - now)}</span>
      )}
      <Switches />
      <NetworkLine />
    </header>
  );
}

interface NowProps {
  readonly brew: BrewState;
  readonly run: Run;
  readonly now: number;
  readonly plan: Plan | undefined;
  readonly kit: Kit | undefined;
}

function Now({ brew, run, now, plan, kit }: NowProps) {
  const { focus } = run;
  if (focus === undefined) return <p class="note">Nothing is planned for this brew.</p>;
  const move = plan?.moves.find((m) => m.move.id === focus.move.id)?.move;
  const cautions = plan?.cautions.filter((c) => c.moveId === focus.move.id) ?? [];
  return (
    <div class="now">
      <NowCard
        brew={brew}
        run={run}
        focus={focus}
        move={move}
        kit={kit}
        nowMs={now}
        cautions={cautions}
        guide={undefined}
        onBegin={() => attempt('write it down', () => begin(brew, run, focus))}
        onDone={() => attempt('write it down', () => finish(brew, run, focus))}
      />
      {kit !== undefined && dayMode.value !== 'wall' && (
        <ReadPad
          brew={brew}
          kit={kit}
          plan={plan}
          now={now}
          preferred={padVessel(move, focus.move.vessel)}
        />
      )}
    </div>
  );
}

/** The thermometer wanted next: the tun for what goes into it, the pot for what boils. */
const padVessel = (move: Move | undefined, acted: string): string =>
  move?.kind === 'pull' ? move.from : acted;

interface ReadProps {
  readonly brew: BrewState;
  readonly kit: Kit;
  readonly plan: Plan | undefined;
  readonly now: number;
  readonly preferred: string;
}

const WHATS: readonly {
  value: Exclude<ReadingWhat, 'iodine' | 'level' | 'gravity'>;
  text: string;
}[] = [
  { value: 'temp', text: 'heat' },
  { value: 'volume', text: 'volume' },
  { value: 'ph', text: 'pH' },
];

function ReadPad({ brew, kit, plan, now, preferred }: ReadProps) {
  const chosen = useSignal<string | undefined>(undefined);
  const what = useSignal<(typeof WHATS)[number]['value']>('temp');
  const three = useSignal(false);
  const doubt = useSignal<{ reading: PadReading; message: string } | undefined>(undefined);
  // A tap on another vessel holds for the move it was made in.
  useEffect(() => {
    chosen.value = undefined;
    doubt.value = undefined;
  }, [preferred, chosen, doubt]);
  const vessel = chosen.value ?? preferred;
  const found = kit.vessels.find((v) => v.id === vessel);
  const minute = planMinute(brew, now);
  const last = [...brew.readings]
    .reverse()
    .find((r) => r.vessel === vessel && r.what === what.value && r.standing === 'holds');
  const planned = plan === undefined ? undefined : traceAt(plan.trace, vessel, minute);
  const expected =
    what.value === 'temp'
      ? (planned ?? last?.value ?? 60)
      : what.value === 'ph'
        ? (last?.value ?? 5.4)
        : (last?.value ?? volumeAt(plan, vessel, minute) ?? (found?.brimL ?? 100) / 2);

  const write = (reading: PadReading) =>
    attempt('write the reading down', async () => {
      await record({
        stream: brew.stream,
        type: 'reading',
        data: {
          vessel,
          what: what.value,
          value: reading.value,
          unit: reading.unit,
          text: reading.text,
          places: three.value ? 3 : 1,
          settled: three.value,
        },
      });
      doubt.value = undefined;
      three.value = false;
    });
  const read = (reading: PadReading) => {
    const check = checkReading(
      { what: what.value, value: reading.value, vessel, text: reading.text },
      {
        pair: pair.value,
        ...(found === undefined ? {} : { vesselName: found.name, brimL: found.brimL }),
        ...(planned === undefined || what.value !== 'temp' ? {} : { expected: planned }),
      },
    );
    if (check.ok) void write(reading);
    else if (check.verdict === 'doubtful') doubt.value = { reading, message: check.message };
    else doubt.value = { reading: { ...reading, value: Number.NaN }, message: check.message };
  };
  return (
    <div class="padside">
      <div class="pad-choice">
        {kit.vessels.map((v) => (
          <button
            key={v.id}
            type="button"
            class="btn"
            aria-pressed={v.id === vessel}
            onClick={() => {
              chosen.value = v.id;
            }}
          >
            {v.name}
          </button>
        ))}
      </div>
      <NumberPad
        keptAs={`${brew.brew}.${vessel}.${what.value}`}
        title={found?.name ?? vessel}
        what={what.value}
        expected={expected}
        verb={three.value ? 'Read, stirred, 3 places' : 'Read'}
        onRead={read}
      />
      <div class="pad-choice">
        {WHATS.map((w) => (
          <button
            key={w.value}
            type="button"
            class="btn"
            aria-pressed={what.value === w.value}
            onClick={() => {
              what.value = w.value;
            }}
          >
            {w.text}
          </button>
        ))}
        <button
          type="button"
          class="btn"
          aria-pressed={three.value}
          onClick={() => {
            three.value = !three.value;
          }}
        >
          3 places
        </button>
      </div>
      {doubt.value !== undefined && (
        <div class="doubt wrong" role="alert">
          <p>{doubt.value.message}</p>
          <div class="row">
            {Number.isFinite(doubt.value.reading.value) && (
              <FirmButton
                class="key"
                onFirm={() => {
                  if (doubt.value !== undefined) void write(doubt.value.reading);
                }}
              >
                Yes, {doubt.value.reading.text} {doubt.value.reading.unit}
              </FirmButton>
            )}
            <FirmButton
              class="key"
              onFirm={() => {
                doubt.value = undefined;
              }}
            >
              Read again
            </FirmButton>
          </div>
        </div>
      )}
    </div>
  );
}

function volumeAt(plan: Plan | undefined, vessel: string, minute: number): number | undefined {
  const curve = plan?.trace.curves.find((c) => c.vessel === vessel);
  const at = curve?.timeMin.findLastIndex((t) => t <= minute) ?? -1;
  return at < 0 ? undefined : curve?.volumeL[at];
}

interface ScoreProps {
  readonly brew: BrewState;
  readonly plan: Plan;
  readonly document: PlanDocument;
  readonly now: number;
}

function DayScore({ brew, plan, document, now }: ScoreProps) {
  const start = brew.startedAtMs ?? now;
  const model = useMemo(
    () =>
      scoreModel(
        document.kit,
        plan.moves.map((m) => m.move),
        plan.trace,
        plan.curveBands,
        say,
      ),
    [document, plan, pairName.value],
  );
  const startDate = new Date(start);
  return (
    <section class="block" aria-label="The day as a score">
      <Score
        model={model}
        startClockMin={startDate.getHours() * 60 + startDate.getMinutes()}
        nowMin={Math.round(((now - start) / 60_000) * 6) / 6}
        readings={brew.readings
          .filter((r) => r.what === 'temp' && r.standing === 'holds')
          .map((r) => ({ vessel: r.vessel, atMin: (r.atMs - start) / 60_000, tempC: r.value }))}
        label={`The day as a score, now ${clockOf(now)}`}
      />
    </section>
  );
}

function DayLog({ brew, kit }: { brew: BrewState; kit: Kit | undefined }) {
  const lines = [
    ...brew.readings.map((r) => ({
      atMs: r.atMs,
      key: r.eventId,
      who: r.who,
      text: `${kit === undefined ? r.vessel : nameIn(kit, r.vessel)} ${readingText(r.what, r.value)}`,
      struck: r.standing !== 'holds',
    })),
    ...brew.moves.flatMap((m) => {
      const move = brew.planSummary?.moves.find((p) => p.id === m.moveId);
      const text = move === undefined ? m.moveId : summaryText(move, brew);
      return [
        ...m.begun.map((mark) => ({
          atMs: mark.atMs,
          key: mark.eventId,
          who: mark.who,
          text: `${text}: begun`,
          struck: false,
        })),
        ...m.done.map((mark) => ({
          atMs: mark.atMs,
          key: mark.eventId,
          who: mark.who,
          text: `${text}: done`,
          struck: false,
        })),
      ];
    }),
    ...brew.mends.map((m) => ({
      atMs: m.atMs,
      key: m.eventId,
      who: m.who,
      text: m.text,
      struck: false,
    })),
    ...brew.notes.map((m) => ({
      atMs: m.atMs,
      key: m.eventId,
      who: m.who,
      text: m.text,
      struck: false,
    })),
  ].sort((a, b) => b.atMs - a.atMs);
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

function readingText(what: ReadingWhat, value: number): string {
  if (what === 'temp') return show('temperature', value);
  if (what === 'volume') return show('volume', value);
  if (what === 'level') return show('length', value);
  if (what === 'ph') return `pH ${value.toFixed(2)}`;
  if (what === 'gravity') return `${value.toFixed(1)} °P`;
  return value > 0.5 ? 'iodine positive' : 'iodine negative';
}

function DayFoot({ brew, run }: { brew: BrewState; run: Run }) {
  const tap = lastTap(brew);
  return (
    <footer class="dayfoot">
      <p class="foot-next">
        {run.next !== undefined && (
          <>
            <span class="soft">next</span> <b>{summaryText(run.next.move, brew)}</b>
          </>
        )}
      </p>
      <button
        type="button"
        class="btn"
        disabled={tap.length === 0}
        onClick={() => attempt('take it back', () => undo(brew))}
      >
        Undo
      </button>
    </footer>
  );
}

/** How the page is laid out here, who signs, and where the record is. */
function DayTools({ brew }: { brew: BrewState }) {
  const hands = (brew.document as PlanDocument | undefined)?.kit.hands ?? [];
  return (
    <section class="block daytools" aria-label="This page">
      <div class="row">
        {(['full', 'wall', 'pocket'] as const).map((mode) => (
          <button
            key={mode}
            type="button"
            class="btn"
            aria-pressed={dayMode.value === mode}
            onClick={() => {
              dayMode.value = mode;
            }}
          >
            {mode === 'full' ? 'Everything' : mode === 'wall' ? 'For the wall' : 'For the pocket'}
          </button>
        ))}
      </div>
      <div class="row">
        <span class="soft">Signed by</span>
        {hands.map((hand) => (
          <button
            key={hand.id}
            type="button"
            class="btn"
            aria-pressed={who.value === hand.id}
            onClick={() => {
              who.value = hand.id;
            }}
          >
            {hand.id} {hand.name}
          </button>
        ))}
      </div>
      <div class="row">
        <a class="btn plain" href={hashOf({ at: 'record', id: brew.brew })}>
          Record
        </a>
        <a class="btn plain" href={hashOf({ at: 'plan', id: brew.brew })}>
          Plan
        </a>
        <span class="soft small">
          {awake.value === 'on' ? 'The screen stays on.' : 'The screen may go dark on this device.'}
        </span>
      </div>
    </section>
  );
}

function Finished({ brew }: { brew: BrewState }) {
  return (
    <section class="do on">
      <p class="do-key">every move of the plan is done</p>
      <p class="do-what">End the brew</p>
      <div class="do-act">
        <FirmButton
          class="key done"
          onFirm={() =>
            attempt('end the brew', async () => {
              await record({
                stream: brew.stream,
                type: 'brew-ended',
                data: { reason: 'finished' },
                readAtMs: nowMs(),
              });
              goTo({ at: 'record', id: brew.brew });
            })
          }
        >
          End
        </FirmButton>
      </div>
    </section>
  );
}
