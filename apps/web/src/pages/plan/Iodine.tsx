import type { Plan } from '@ladlework/planner';
import { chanceOfBlue } from '../../units/iodine.ts';
import { clockAt } from '../../units/show.ts';

/** When to test with iodine, and how likely it shows starch. */
export function Iodine({ plan, startMin }: { plan: Plan; startMin: number }) {
  if (plan.iodine.length === 0) return null;
  return (
    <>
      <h3>Iodine test</h3>
      <ul class="plain-list">
        {plan.iodine.map(({ rest, atMin, positiveChance }) => (
          <li key={rest}>
            Rest {rest}, at <b>{clockAt(atMin, startMin)}</b>
            <span class="soft">: {chanceOfBlue(positiveChance)}</span>
          </li>
        ))}
      </ul>
    </>
  );
}
