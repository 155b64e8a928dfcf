import type { BrewState } from '@ladlework/log';
import type { PlanDocument } from '@ladlework/planner';
import { hashOf } from '../../../shell/route.ts';
import { brewName } from '../../BrewsPage.tsx';
import { startSecondBrew } from '../../NewBrewPage.tsx';

/** Most brews a day is planned for. */
const MOST = 3;

/** The other brews of the day, and the way to one more. */
export function SharedDay({ brew, brews }: { brew: BrewState; brews: readonly BrewState[] }) {
  const [first] = brews;
  const open = first !== undefined && first.ended === undefined && brews.length < MOST;
  return (
    <section class="block noprint">
      <h2>Brews of this day</h2>
      <ol class="plain-list">
        {brews.map((b, k) => (
          <li key={b.brew}>
            {k + 1}.{' '}
            {b.brew === brew.brew ? (
              <b>{brewName(b)}</b>
            ) : (
              <a href={hashOf({ at: 'plan', id: b.brew })}>{brewName(b)}</a>
            )}
          </li>
        ))}
      </ol>
      {open && (
        <button
          type="button"
          class="btn"
          onClick={() => startSecondBrew(first.brew, first.document as PlanDocument)}
        >
          Add a brew to this day
        </button>
      )}
    </section>
  );
}
