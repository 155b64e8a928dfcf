import { inPair } from '../units/show.ts';

/** Why the figures of the mash kinetics do not hold; nothing where they do. */
export function DoesNotHold({ reasons }: { reasons: readonly string[] }) {
  if (reasons.length === 0) return null;
  return (
    <div class="wrong not-hold">
      <b>Figures for extract and attenuation do not hold for this mash.</b>
      <ul>
        {reasons.map((why) => (
          <li key={why}>{inPair(why)}</li>
        ))}
      </ul>
    </div>
  );
}
