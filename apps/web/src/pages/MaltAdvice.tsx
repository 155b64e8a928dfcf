import {
  type Beer,
  fanEstimate,
  glucanClass,
  type Mash,
  type RestAdvice,
  restAdvice,
} from '@ladlework/planner';
import { inPair } from '../units/show.ts';
import { fieldLabel } from './certificate.ts';
import { Fact } from './Fact.tsx';

const VERDICT: Readonly<Record<RestAdvice['verdict'], string>> = {
  rest: 'A protein and glucan rest is worth it',
  none: 'No protein or glucan rest',
  optional: 'A protein rest does little either way',
  unknown: 'The certificates do not settle the protein rest',
};

const GLUCAN: Readonly<Record<ReturnType<typeof glucanClass>, { word: string; text: string }>> = {
  green: { word: 'easy', text: 'Beta-glucan and viscosity are in the easy range.' },
  amber: {
    word: 'watch it',
    text: 'Near the limit: run off slowly at first, keep liquor hot for an underlet.',
  },
  red: { word: 'slow', text: 'Expect a slow run-off; a rest at 45-50 °C helps.' },
  unknown: { word: 'not known', text: 'Neither beta-glucan nor viscosity is on a certificate.' },
};

/** What the malts' certificates say of rests, free amino nitrogen and run-off. */
export function MaltAdvice({ beer, mash }: { beer: Beer; mash: Mash }) {
  const advice = restAdvice(beer);
  const fan = fanEstimate(beer, mash);
  const glucan = GLUCAN[glucanClass(beer)];
  return (
    <div class="cols">
      <div>
        <h3>{VERDICT[advice.verdict]}</h3>
        {advice.verdict === 'unknown' ? (
          <p class="plain">These would: {advice.missing.map(fieldLabel).join(', ')}.</p>
        ) : (
          <p class="plain">{inPair(advice.sentence)}</p>
        )}
        {advice.findings.length > 0 && (
          <dl class="facts">
            {advice.findings.map((finding) => (
              <Fact
                key={finding.field}
                name={fieldLabel(finding.field)}
                note={`${finding.threshold} (${finding.source})`}
                value={`${Math.round(finding.value * 10) / 10}, ${finding.verdict}`}
              />
            ))}
          </dl>
        )}
        <p class="small soft">Rule: {inPair(advice.source)}.</p>
      </div>
      <div>
        <h3>Run-off and yeast food</h3>
        <p class="plain">{inPair(glucan.text)}</p>
        <dl class="facts">
          <Fact name="run-off by beta-glucan" value={glucan.word} />
          <Fact
            name="free amino nitrogen"
            note="with these rests, at the strength of a congress wort"
            value={
              fan === undefined
                ? 'not on the certificates'
                : `${fan.low.toFixed(0)}–${fan.likely.toFixed(0)}–${fan.high.toFixed(0)} mg/L`
            }
          />
        </dl>
      </div>
    </div>
  );
}
