import type { BrewState, MissState } from '@ladlework/log';
import type { DayEntry, Plan, PlanDocument, WayOut } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { attempt } from '../../pages/trouble.tsx';
import { who } from '../../shell/settings.ts';
import { clockOf, inPair, show } from '../../units/show.ts';
import { withdraw } from '../actions.ts';
import { FirmButton } from '../FirmButton.tsx';
import { amountsOf, openMisses, tellings } from './told.ts';
import { useWays } from './useWays.ts';
import { Way } from './Way.tsx';
import { amendMiss, putMissRight, takeWay, tellMiss } from './wrong-actions.ts';

interface Props {
  readonly brew: BrewState;
  readonly document: PlanDocument;
  readonly plan: Plan | undefined;
  readonly probed: readonly DayEntry[];
  readonly nowMs: number;
  /** Somebody carries: nothing is asked of them now. */
  readonly carrying: boolean;
}

/** Ways shown before the rest is asked for. */
const SHOWN = 5;
/** After this long without a choice the miss is not asked about any more [min]. */
const ASKED_MIN = 45;

/** Two taps: something went wrong, and what. Then how long it is safe, and the ways out. */
export function Wrong(props: Props) {
  const { brew, document, plan, nowMs } = props;
  const asking = useSignal(false);
  const closed = useSignal<string | undefined>(undefined);
  const shown = useSignal<string | undefined>(undefined);
  const newest = unanswered(brew, nowMs);
  const miss =
    brew.misses.find((m) => m.eventId === shown.value) ??
    (newest?.eventId === closed.value ? undefined : newest);
  const lasting = openMisses(brew).filter((m) => m.eventId !== miss?.eventId);
  if (asking.value)
    return (
      <section ref={intoView} class="wrongs" aria-label="What went wrong">
        <header>
          <h2>What went wrong?</h2>
          <FirmButton class="key" onFirm={() => (asking.value = false)}>
            Nothing, close
          </FirmButton>
        </header>
        <div class="wrong-keys">
          {tellings(brew, plan, document, who.value).map(({ key, data }) => (
            <FirmButton
              key={key}
              class="key"
              writes="miss-told"
              onFirm={() => {
                asking.value = false;
                shown.value = undefined;
                closed.value = undefined;
                void attempt('write it down', () => tellMiss(brew, plan, data));
              }}
            >
              {data.text}
            </FirmButton>
          ))}
        </div>
      </section>
    );
  return (
    <>
      {miss !== undefined && (
        <Mending
          {...props}
          miss={miss}
          onClose={() => {
            closed.value = miss.eventId;
            shown.value = undefined;
          }}
        />
      )}
      {lasting.length > 0 && (
        <ul class="lasting" aria-label="Not put right yet">
          {lasting.map((m) => (
            <li key={m.eventId}>
              <span>
                <b>{m.text}</b> <span class="soft">since {clockOf(m.atMs)}</span>
              </span>
              <FirmButton class="key" onFirm={() => (shown.value = m.eventId)}>
                Ways out
              </FirmButton>
              <FirmButton
                class="key"
                label={`Put right: ${m.text}`}
                onFirm={() => attempt('write it down', () => putMissRight(brew, m))}
              >
                Put right
              </FirmButton>
            </li>
          ))}
        </ul>
      )}
      {miss === undefined && (
        <FirmButton class="key went-wrong" writes="miss-told" onFirm={() => (asking.value = true)}>
          Something went wrong
        </FirmButton>
      )}
    </>
  );
}

/** A sheet that opens is looked at: on a phone it would stand below the pad. */
const intoView = (el: HTMLElement | null) => el?.scrollIntoView({ block: 'start' });

/** The newest miss nobody has answered with a way. */
function unanswered(brew: BrewState, nowMs: number): MissState | undefined {
  const last = brew.misses.at(-1);
  if (last === undefined || last.over !== undefined) return undefined;
  if (nowMs - last.atMs > ASKED_MIN * 60_000) return undefined;
  const answered = brew.plans.some((p) => p.reason !== undefined && p.atMs >= last.atMs);
  return answered ? undefined : last;
}

interface MendingProps extends Props {
  readonly miss: MissState;
  readonly onClose: () => void;
}

function Mending({ brew, document, plan, probed, carrying, miss, onClose }: MendingProps) {
  const { safe, outs, left } = useWays(brew, document, plan, miss, probed);
  const all = useSignal(false);
  const possible = outs.filter((w) => w.possible);
  const cannot = outs.filter((w) => !w.possible);
  const amounts = amountsOf(miss, document.kit);
  const sheet = useRef<HTMLElement>(null);
  // The page is long enough to bring the sheet to the top only once there are ways in it.
  const filled = possible.length > 0;
  useEffect(() => intoView(sheet.current), [filled]);
  const pick = (way: WayOut) =>
    attempt('write it down', async () => {
      await takeWay(brew, miss, way);
      onClose();
    });
  return (
    <section ref={sheet} class="ways" aria-label="Ways out of it" aria-busy={left > 0}>
      <header>
        <h2>{inPair(miss.text)}</h2>
        <FirmButton class="key" onFirm={onClose}>
          Close
        </FirmButton>
      </header>
      {carrying && <p class="ways-safe">Put down first what you carry.</p>}
      <p class="ways-safe">
        {safe === undefined ? 'Working out how long it is safe.' : inPair(safe.text)}
      </p>
      {amounts.length > 0 && (
        <fieldset class="row ways-amounts">
          <legend class="soft">
            About how much? Written down: {amountText(miss, miss.litres ?? miss.minutes ?? 0)}
          </legend>
          {amounts.map((amount) => (
            <FirmButton
              key={amount}
              class="key"
              pressed={amount === (miss.litres ?? miss.minutes)}
              onFirm={() => attempt('write it down', () => amendMiss(brew, miss, amount))}
            >
              {amountText(miss, amount)}
            </FirmButton>
          ))}
        </fieldset>
      )}
      <ol class="ways-list">
        {possible.slice(0, SHOWN).map((way) => (
          <Way key={way.code} way={way} brew={brew} onPick={carrying ? undefined : pick} />
        ))}
      </ol>
      {left > 0 && (
        <p class="soft" role="status">
          {left} more {left === 1 ? 'way is' : 'ways are'} being worked out.
        </p>
      )}
      {cannot.length > 0 && (
        <>
          <FirmButton class="key" pressed={all.value} onFirm={() => (all.value = !all.value)}>
            {cannot.length} not possible
          </FirmButton>
          {all.value && (
            <ul class="plain-list ways-cannot">
              {cannot.map((w) => (
                <li key={w.code}>
                  <b>{inPair(w.text)}</b>: <span class="soft">{inPair(w.whyNot ?? '')}</span>
                </li>
              ))}
            </ul>
          )}
        </>
      )}
      <FirmButton
        class="key"
        onFirm={() =>
          attempt('take it back', () => withdraw(brew, miss.headId, 'it did not go wrong'))
        }
      >
        It did not happen
      </FirmButton>
    </section>
  );
}

const amountText = (miss: MissState, amount: number): string =>
  miss.litres === undefined
    ? show('duration', amount)
    : show('volume', amount, amount < 10 && amount % 1 !== 0 ? 1 : 0);
