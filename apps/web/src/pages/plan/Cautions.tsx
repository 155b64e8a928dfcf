import type { Kit } from '@ladlework/brewhouse';
import { moveText } from '@ladlework/brewhouse';
import type { Caution, Plan } from '@ladlework/planner';
import { say } from '../../units/say.ts';
import { inPair, show } from '../../units/show.ts';
import { cautionGroups } from './caution-groups.ts';

/** What can hurt, once each; on the day every move shows its own. */
export function Cautions({ plan, kit }: { plan: Plan; kit: Kit }) {
  return (
    <ul class="cautions">
      {cautionGroups(plan.cautions, plan.moves).map(({ code, text, moves }) => (
        <li key={`${code}${text}`}>
          {inPair(text)}
          {moves.length > 0 && (
            <span class="soft small">
              {moves
                .map(({ move, severity }) => {
                  const figure = severity === undefined ? undefined : severityText(code, severity);
                  return `${moveText(move, kit, say)}${figure === undefined ? '' : ` (${figure})`}`;
                })
                .join('; ')}
            </span>
          )}
        </li>
      ))}
    </ul>
  );
}

function severityText(code: Caution['code'], severity: number): string | undefined {
  if (code === 'scald') return show('temperature', severity, 0);
  if (code === 'lifting') return show('mass', severity);
  return undefined;
}
