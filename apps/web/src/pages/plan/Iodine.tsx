import type { Plan } from '@ladlework/planner';
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
            <span class="soft">: {chanceText(positiveChance)}</span>
          </li>
        ))}
      </ul>
    </>
  );
}

/** The ensemble has some two hundred draws; nothing rarer than one in a hundred is told apart. */
function chanceText(chance: number): string {
  if (chance < 0.01) return 'starch should be gone';
  if (chance > 0.99) return 'starch is still there; it is not the last word on the mash';
  return `blue in about ${Math.max(1, Math.round(chance * 100))} of 100 such mashes`;
}
