import type { LateReturn, PlanDocument } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { engine } from '../../engine/client.ts';
import { show } from '../../units/show.ts';

/** A helper called away, a telephone: what the table below is worked out for [min]. */
const LATE_MIN = 15;

/** What each return costs when it comes late. */
export function Late({ document }: { document: PlanDocument }) {
  const found = useSignal<readonly LateReturn[]>([]);
  const why = useSignal<string | undefined>(undefined);
  useEffect(() => {
    let wanted = true;
    void engine.late({ document, lateMin: LATE_MIN }).then((answer) => {
      if (!wanted) return;
      if (answer.ok) found.value = answer.value;
      else why.value = answer.error.message;
    });
    return () => {
      wanted = false;
    };
  }, [document]);
  if (why.value !== undefined) return <p class="small soft">{why.value}</p>;
  if (found.value.length === 0) return null;
  return (
    <>
      <h3>What a return {show('duration', LATE_MIN)} late costs</h3>
      <ul class="plain-list">
        {found.value.map((late) => (
          <li key={late.rest}>
            To rest {late.rest}: lands{' '}
            <b>{signed(late.landingK, show('temperatureDifference', Math.abs(late.landingK)))}</b>
            <span class="soft">
              , alpha-amylase {points(late.alphaPoints)}, beta-amylase {points(late.betaPoints)},
              limit of attenuation {points(late.limitPoints)} (± 0.5), day{' '}
              {signed(late.endMin, show('duration', Math.abs(late.endMin)))}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

const signed = (value: number, text: string): string =>
  /[1-9]/.test(text) ? `${value > 0 ? '+' : '−'}${text}` : `±${text}`;
const points = (value: number): string => `${signed(value, Math.abs(value).toFixed(1))} points`;
