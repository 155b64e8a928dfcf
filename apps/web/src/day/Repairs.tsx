import type { Kit } from '@ladlework/brewhouse';
import type { Repair } from '@ladlework/planner';
import { inPair, show, showBand } from '../units/show.ts';
import { FirmButton } from './FirmButton.tsx';

interface Props {
  readonly kit: Kit;
  readonly vessel: string;
  readonly targetC: number;
  /** Reading minus target [K], when one was taken. */
  readonly offK: number | undefined;
  /** Nothing while they are being worked out. */
  readonly repairs: readonly Repair[] | undefined;
  readonly onPick: (repair: Repair) => void;
  readonly onClose: () => void;
}

/** Ways out of a miss with what stands there, each carried through to where it lands. */
export function Repairs({ kit, vessel, targetC, offK, repairs, onPick, onClose }: Props) {
  const name = kit.vessels.find((v) => v.id === vessel)?.name ?? vessel;
  return (
    <section class="repairs" aria-label="Ways out">
      <header>
        <h2>
          {offK === undefined
            ? `${name} was to land at ${show('temperature', targetC, 0)}`
            : `${name} landed ${show('temperatureDifference', Math.abs(offK), 1)} ${offK > 0 ? 'above' : 'below'} ${show('temperature', targetC, 0)}`}
        </h2>
        <FirmButton class="key" onFirm={onClose}>
          Close
        </FirmButton>
      </header>
      {repairs === undefined ? (
        <p class="soft">Working out what can be done.</p>
      ) : (
        <ol>
          {repairs.map((r) => (
            <li key={r.code} class={r.possible ? undefined : 'cannot'}>
              <div>
                <b>{inPair(r.text)}</b>
                {r.possible ? (
                  <span class="soft">
                    {r.minutes >= 0.5 && `${show('duration', r.minutes)}, `}
                    {r.hands > 0 && `${r.hands} ${r.hands === 1 ? 'hand' : 'hands'}, `}
                    mash then {show('volume', r.mashL)} at {show('ratio', r.liquorLPerKg, 1)}
                  </span>
                ) : (
                  <span class="soft">not possible: {inPair(r.whyNot ?? '')}</span>
                )}
              </div>
              {r.possible && (
                <>
                  <span class="lands">→ {showBand('temperature', r.landingC, 1)}</span>
                  <FirmButton
                    class="key"
                    label={`Pick: ${inPair(r.text)}`}
                    onFirm={() => onPick(r)}
                  >
                    Pick
                  </FirmButton>
                </>
              )}
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}
