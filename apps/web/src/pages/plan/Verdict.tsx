import type { Change, Plan } from '@ladlework/planner';
import { signal } from '@preact/signals';
import { clockAt, inPair, show, showBand } from '../../units/show.ts';
import { planBrew } from '../plan-brew.ts';
import { attempt } from '../trouble.tsx';

/** Whether the kit can do it; if not, what clashes and what would free it. */
export function Verdict({ plan, startMin }: { plan: Plan; startMin: number }) {
  const pulls = plan.returns.length;
  const count = pulls === 0 ? 'No pull' : pulls === 1 ? 'One pull' : `${pulls} pulls`;
  if (plan.feasible) {
    return (
      <p class="verdict">
        This kit can do it. {count}, mash over at {clockAt(plan.mashEndMin.likely, startMin)}.
      </p>
    );
  }
  return (
    <div class="cannot">
      <p class="verdict">This kit cannot do it as asked.</p>
      <ul class="wrong">
        {plan.clashes.map((clash) => (
          <li key={`${clash.code}${clash.text}`}>{inPair(clash.text)}</li>
        ))}
      </ul>
      {plan.changes.length > 0 ? (
        <section class="block" aria-label="What would free it">
          <h2>Any one of these frees it, each worked through</h2>
          <ul class="changes">
            {plan.changes.map((change) => (
              <ChangeRow key={change.code} change={change} />
            ))}
          </ul>
        </section>
      ) : (
        <p>No single change of vessel, pull, liquor or rest was found that frees it.</p>
      )}
    </div>
  );
}

/** The change being planned now, so that two taps do not plan two brews. */
const trying = signal<string | undefined>(undefined);

function ChangeRow({ change }: { change: Change }) {
  const text = inPair(change.text);
  const tryIt = () =>
    attempt('plan this change', async () => {
      trying.value = change.code;
      try {
        await planBrew(change.document, { remark: `Planned with ${text}` });
      } finally {
        trying.value = undefined;
      }
    });
  return (
    <li>
      <span class="what">{text}</span>
      <span>
        lands at <b>{showBand('temperature', change.landingC)}</b>
      </span>
      <span class="soft">{longer(change.addedMin)}</span>
      <button
        type="button"
        class="btn noprint"
        aria-label={`Try it: ${text}`}
        disabled={trying.value !== undefined}
        onClick={tryIt}
      >
        {trying.value === change.code ? 'Planning …' : 'Try it'}
      </button>
    </li>
  );
}

function longer(minutes: number): string {
  if (minutes >= 1) return `${show('duration', minutes)} more`;
  if (minutes <= -1) return `${show('duration', -minutes)} less`;
  return 'no longer day';
}
