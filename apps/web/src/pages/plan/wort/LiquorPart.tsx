import type { LiquorKit } from '@ladlework/brewhouse';
import { ACIDS, SALTS } from '@ladlework/matter';
import type { LiquorPlan } from '@ladlework/planner';
import { threeText } from '../../../units/band-text.ts';
import { inPair, show } from '../../../units/show.ts';
import { Fact } from '../../Fact.tsx';
import { ION_NAME } from './words.ts';

interface Props {
  readonly liquor: LiquorPlan;
  readonly acid: LiquorKit['acid'];
}

/** Salts and acid by weight and measure, for strike and sparge, and the pH they lead to. */
export function LiquorPart({ liquor, acid }: Props) {
  const { mashL, spargeL, mashPh, sparge, salts, residualAlkalinityMgLCaCO3: alkalinity } = liquor;
  const acidName = ACIDS[acid ?? 'lactic88'].name;
  const missed = salts.misses.filter((miss) => Math.abs(miss.mgL) >= 1);
  return (
    <div>
      <h3>Liquor</h3>
      {liquor.doubt !== undefined && (
        <div class="wrong">
          <b>The water report cannot be true.</b> {inPair(liquor.doubt)}
        </div>
      )}
      <dl class="facts">
        {salts.doses
          .filter((dose) => dose.gPerL > 0.0005)
          .map((dose) => (
            <Fact
              key={dose.salt}
              name={SALTS[dose.salt].name}
              note={`${(dose.gPerL * mashL).toFixed(1)} g into the strike liquor, ${(dose.gPerL * spargeL).toFixed(1)} g into the sparge`}
              value={`${dose.grams.toFixed(1)} g`}
            />
          ))}
        {salts.dilute > 0.0005 && (
          <Fact
            name="second liquor mixed in"
            note={`${show('volume', salts.dilute * mashL)} of the strike, ${show('volume', salts.dilute * spargeL)} of the sparge`}
            value={`${(salts.dilute * 100).toFixed(0)} %`}
          />
        )}
        <Fact
          name="residual alkalinity, as CaCO₃"
          value={`${alkalinity.before.toFixed(0)} → ${alkalinity.after.toFixed(0)} mg/L`}
        />
        <Fact name="mash pH without acid" value={threeText(mashPh.withoutAcid, 2)} />
        {mashPh.acidML > 0 && (
          <Fact
            name={`${acidName}, into the mash`}
            {...(mashPh.wanted === undefined ? {} : { note: `for pH ${mashPh.wanted.toFixed(2)}` })}
            value={`${mashPh.acidML.toFixed(0)} mL`}
          />
        )}
        <Fact
          name="mash pH"
          note="at room temperature; a reading of the day counts before it"
          value={threeText(mashPh.ph, 2)}
        />
        <Fact
          name="once the boiled parts are back"
          note="boiling browns the mash and takes lime out"
          value={threeText(mashPh.afterDecoctions, 2)}
        />
        {sparge.acidML > 0 && (
          <Fact
            name={`${acidName}, into the sparge`}
            note={`${show('volume', spargeL)} to pH ${sparge.toPh.toFixed(1)}`}
            value={`${sparge.acidML.toFixed(0)} mL`}
          />
        )}
      </dl>
      {missed.map((miss) => (
        <p class="plain" key={miss.field}>
          {ION_NAME[miss.field] ?? miss.field} ends {Math.abs(miss.mgL).toFixed(0)} mg/L{' '}
          {miss.mgL > 0 ? 'over' : 'under'} what is asked; these salts get no nearer.
        </p>
      ))}
      {(mashPh.acidML > 0 || sparge.acidML > 0) && (
        <p class="caution-line">
          Acid: goggles and gloves, acid into the liquor and never liquor into acid. Never near
          caustic.
        </p>
      )}
    </div>
  );
}
