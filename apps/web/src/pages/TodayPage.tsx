import type { BrewState } from '@ladlework/log';
import type { PlanDocument } from '@ladlework/planner';
import { movingNowMs } from '../data/clock.ts';
import { type BeerSheet, beers, brews, events, kits, refusals, storage } from '../data/house.ts';
import { standingOf } from '../day/standing.ts';
import { reloadable } from '../shell/offline.ts';
import { hashOf } from '../shell/route.ts';
import { show } from '../units/show.ts';
import { brewName, brewRemark } from './BrewsPage.tsx';
import { startBrewOf } from './NewBrewPage.tsx';

export function TodayPage() {
  const running = brews.value.filter((b) => b.startedAtMs !== undefined && b.ended === undefined);
  const planned = brews.value.filter(
    (b) => b.startedAtMs === undefined && b.planSummary !== undefined,
  );
  const date = new Intl.DateTimeFormat(undefined, {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
  }).format(movingNowMs());
  return (
    <>
      <header class="head">
        <h1>{date}</h1>
      </header>
      {running.map((brew) => (
        <Running key={brew.brew} brew={brew} />
      ))}
      {running.length === 0 && <Next planned={planned} />}
      <House />
    </>
  );
}

/** You are here, overdue by so much, next. */
function Running({ brew }: { brew: BrewState }) {
  const at = standingOf(brew, movingNowMs());
  return (
    <a class="reenter" href={hashOf({ at: 'day', id: brew.brew })}>
      <span class="soft">{brewName(brew)}, you are here</span>
      <b>{at.here}</b>
      {at.overdueMin !== undefined && at.overdueMin >= 1 && (
        <span class="over">overdue by {show('duration', at.overdueMin)}</span>
      )}
      {at.next !== undefined && (
        <span>
          <span class="soft">next</span> {at.next}
        </span>
      )}
      <span class="btn solid">Back to the day</span>
    </a>
  );
}

function Next({ planned }: { planned: readonly BrewState[] }) {
  if (planned.length > 0) {
    return (
      <section class="block first">
        <h2>Planned</h2>
        <ul class="shelf">
          {planned.map((brew) => {
            const document = brew.document as PlanDocument | undefined;
            return (
              <li key={brew.brew}>
                <a href={hashOf({ at: 'plan', id: brew.brew })}>
                  <b>{brewName(brew)}</b>
                  <span>
                    on {document?.kit.name}
                    {brewRemark(brew)}
                  </span>
                  <span class="aside">
                    {brew.planSummary === undefined
                      ? ''
                      : `${pullCount(brew.planSummary.returns.length)}, ${show('duration', brew.planSummary.mashEndMin.likely)} of mash`}
                  </span>
                </a>
              </li>
            );
          })}
        </ul>
      </section>
    );
  }
  const due = beers.value.filter((sheet) => kits.value.some((k) => k.id === sheet.kitId));
  if (due.length > 0) return <Ready sheets={due} />;
  return <FirstSteps />;
}

/** Beers that came with the kit they are brewed on: one tap from a plan. */
function Ready({ sheets }: { sheets: readonly BeerSheet[] }) {
  return (
    <section class="block first">
      <h2>Nothing is planned</h2>
      <p class="lead">
        Begin with one of these, on the kit it was written for. Nothing is brewed yet.
      </p>
      <ul class="shelf">
        {sheets.map((sheet) => (
          <li key={sheet.beer.id} class="with-act">
            <a href={hashOf({ at: 'beer', id: sheet.beer.id })}>
              <b>{sheet.beer.name}</b>
              <span>
                {pullsOf(sheet)},{' '}
                {sheet.mash?.rests.map((r) => show('temperature', r.tempC, 0)).join(' → ')}
                <br />
                on {kits.value.find((k) => k.id === sheet.kitId)?.name}
              </span>
            </a>
            <button
              type="button"
              class="btn solid"
              aria-label={`Plan ${sheet.beer.name}`}
              onClick={() => startBrewOf(sheet)}
            >
              Plan
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

const pullsOf = ({ mash }: BeerSheet): string =>
  pullCount(mash?.raises.filter((r) => r.by === 'decoction').length ?? 0);

const pullCount = (n: number): string =>
  n === 0 ? 'no pull' : n === 1 ? 'one pull' : `${n} pulls`;

/** An empty house: kit, beer, plan. */
function FirstSteps() {
  const steps = [
    {
      done: kits.value.length > 0,
      href: '#/kit',
      text: 'Describe the kit you brew on',
      verb: 'Kit',
    },
    {
      done: beers.value.length > 0,
      href: '#/beers',
      text: 'Write down a beer: malts, rests, pulls',
      verb: 'Beers',
    },
    { done: false, href: '#/brews/new', text: 'Plan the day on this kit', verb: 'New brew' },
  ];
  const due = steps.findIndex((step) => !step.done);
  return (
    <section class="block first">
      <h2>Nothing is running</h2>
      <ol class="steps">
        {steps.map((step, i) => (
          <li key={step.verb} class={step.done ? 'done' : i === due ? 'due' : undefined}>
            <span>{step.text}</span>
            {step.done ? (
              <span class="soft">done</span>
            ) : (
              <a class={i === due ? 'btn solid' : 'btn'} href={step.href}>
                {step.verb}
              </a>
            )}
          </li>
        ))}
      </ol>
    </section>
  );
}

/** What this device keeps, and what a server would not take. */
function House() {
  const reload = reloadable.value;
  return (
    <section class="block">
      <h2>This device</h2>
      <dl class="facts device">
        <div>
          <dt>entries kept here</dt>
          <dd>{storage.value.state === 'kept' ? events.value.length : 'none'}</dd>
        </div>
        <div>
          <dt>reload with the server down</dt>
          <dd>
            {reload.state === 'no'
              ? `does not work: ${reload.why}`
              : reload.state === 'yes'
                ? 'works'
                : 'being prepared'}
          </dd>
        </div>
      </dl>
      {refusals.value.length > 0 && (
        <div class="wrong block">
          <b>The server would not take these; they are kept here.</b>
          <ul>
            {refusals.value.map((r) => (
              <li key={r.id}>{r.reason}</li>
            ))}
          </ul>
        </div>
      )}
    </section>
  );
}
