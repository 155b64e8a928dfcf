import { useEffect } from 'preact/hooks';
import { brewById } from '../data/house.ts';
import { RunningDay } from '../day/RunningDay.tsx';
import { stayAwake } from '../day/wake.ts';
import { hashOf } from '../shell/route.ts';
import { brewName } from './BrewsPage.tsx';
import { Gone } from './Gone.tsx';

/** The day of a brew; before it begins and after it ended, the way to its plan or record. */
export function DayPage({ id }: { id: string }) {
  const brew = brewById(id);
  useEffect(stayAwake, []);
  if (brew === undefined) {
    return (
      <main class="main day-aside" id="main">
        <Gone what="brew" back="#/brews" />
      </main>
    );
  }
  if (brew.startedAtMs === undefined || brew.ended !== undefined) {
    const at = brew.ended === undefined ? 'plan' : 'record';
    return (
      <main class="main day-aside" id="main">
        <h1>{brewName(brew)}</h1>
        <p>{at === 'plan' ? 'This brew has not begun.' : 'This brew has ended.'}</p>
        <p class="day-way">
          <a class="key link" href={hashOf({ at, id })}>
            {at === 'plan' ? 'To its plan' : 'To its record'}
          </a>
        </p>
      </main>
    );
  }
  return <RunningDay brew={brew} />;
}
