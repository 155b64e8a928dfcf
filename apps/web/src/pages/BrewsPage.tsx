import type { BrewState } from '@ladlework/log';
import { brews } from '../data/house.ts';
import { hashOf, type Route } from '../shell/route.ts';
import { clockOf } from '../units/show.ts';

/** Name of a brew: its beer, on its kit. */
export function brewName(brew: BrewState): string {
  return brew.document === undefined ? `Brew ${brew.brew}` : brew.document.beer.name;
}

/** What was noted of a brew before it began: it tells two brews of one beer apart. */
export function brewRemark(brew: BrewState): string {
  const begun = brew.startedAtMs ?? Number.POSITIVE_INFINITY;
  const texts = brew.notes.filter((note) => note.atMs < begun).map((note) => note.text);
  return texts.length === 0 ? '' : `; ${texts.join('; ')}`;
}

/** Where tapping a brew leads: its plan before, its day during, its record after. */
function brewRoute(brew: BrewState): Route {
  if (brew.ended !== undefined) return { at: 'record', id: brew.brew };
  if (brew.startedAtMs !== undefined) return { at: 'day', id: brew.brew };
  return { at: 'plan', id: brew.brew };
}

const dateOf = (ms: number): string =>
  new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'long', year: 'numeric' }).format(ms);

function standing(brew: BrewState): string {
  if (brew.ended !== undefined) {
    return `${brew.ended.reason === 'finished' ? 'finished' : 'given up'} ${clockOf(brew.ended.atMs)}`;
  }
  if (brew.startedAtMs !== undefined) return `running since ${clockOf(brew.startedAtMs)}`;
  return `planned ${clockOf(brew.plans.at(-1)?.atMs ?? brew.lastAtMs ?? 0)}`;
}

export function BrewsPage() {
  const list = brews.value;
  return (
    <>
      <header class="head">
        <div>
          <h1>Brews</h1>
          <p>Planned, running and done.</p>
        </div>
        <a class="btn solid" href="#/brews/new">
          New brew
        </a>
      </header>
      {list.length === 0 ? (
        <p class="note">No brew yet.</p>
      ) : (
        <ul class="shelf">
          {list.map((brew) => (
            <li key={brew.brew}>
              <a href={hashOf(brewRoute(brew))}>
                <b>{brewName(brew)}</b>
                <span>
                  on {brew.document?.kit.name ?? 'an unknown kit'}
                  {brewRemark(brew)}
                </span>
                <span class="aside">
                  {standing(brew)}
                  <br />
                  {dateOf(brew.startedAtMs ?? brew.lastAtMs ?? 0)}
                </span>
              </a>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
