import type { Plan } from '@ladlework/planner';
import { chanceOfBlue } from '../../units/iodine.ts';
import { clockAt, inPair } from '../../units/show.ts';

/** When to test with iodine, how likely it shows starch, and what clears it then. */
export function Iodine({ plan, startMin }: { plan: Plan; startMin: number }) {
  if (plan.iodine.length === 0) return null;
  return (
    <ul class="plain-list">
      {plan.iodine.map(({ rest, atMin, positiveChance, ifBlue }) => (
        <li key={rest}>
          Rest {rest}, at <b>{clockAt(atMin, startMin)}</b>
          <span class="soft">: {chanceOfBlue(positiveChance)}.</span>
          {ifBlue !== undefined && (
            <>
              {' '}
              <b>If it is blue:</b> {inPair(ifBlue)}
            </>
          )}
        </li>
      ))}
    </ul>
  );
}
