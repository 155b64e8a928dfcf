import type { FieldWorth, PlanDocument, WortForecast } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { engine } from '../../engine/client.ts';
import { fieldLabel } from '../certificate.ts';

/** A figure that takes less than this off a band is not worth a line. */
const LEAST_NARROWING = 0.005;

/** Which missing figure of a certificate would narrow the predicted wort most, best first. */
export function Worth({ document, wort }: { document: PlanDocument; wort: WortForecast }) {
  const found = useSignal<readonly FieldWorth[]>([]);
  const why = useSignal<string | undefined>(undefined);
  useEffect(() => {
    let wanted = true;
    void engine.worth({ document, wort }).then((answer) => {
      if (!wanted) return;
      if (answer.ok) found.value = answer.value;
      else why.value = answer.error.message;
    });
    return () => {
      wanted = false;
    };
  }, [document, wort]);
  if (why.value !== undefined) return <p class="small soft">{why.value}</p>;
  const worth = found.value.filter(
    (f) => f.extractNarrowing >= LEAST_NARROWING || f.limitNarrowing >= LEAST_NARROWING,
  );
  if (worth.length === 0) return null;
  return (
    <>
      <h3>What would narrow it</h3>
      <ul class="plain-list">
        {worth.map((f) => (
          <li key={f.field}>
            <b>{fieldLabel(f.field)}</b> of {f.lots.join(' and ')}
            <span class="soft">
              : extract band {percent(f.extractNarrowing)} narrower, limit of attenuation{' '}
              {percent(f.limitNarrowing)}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

const percent = (share: number): string => `${Math.round(share * 100)} %`;
