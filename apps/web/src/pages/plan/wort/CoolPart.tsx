import type { KnockOutPlan, PitchPlan, WortPlan } from '@ladlework/planner';
import { extractBand, threeText } from '../../../units/band-text.ts';
import { inPair, show, showBand } from '../../../units/show.ts';
import { Fact } from '../../Fact.tsx';

interface Props {
  readonly knockOut: KnockOutPlan;
  readonly pitch: PitchPlan | undefined;
  readonly yeast: string | undefined;
  readonly beer: WortPlan['beer'];
}

/** Cooling, air and yeast. */
export function CoolPart({ knockOut, pitch, yeast, beer }: Props) {
  return (
    <div>
      <h3>Knock-out by {knockOut.how} cooler</h3>
      <dl class="facts">
        <Fact
          name="from the boil to"
          note={`liquor at ${show('temperature', knockOut.liquorInC)}; reached in ${Math.round(knockOut.reachedShare * 100)} of 100`}
          value={showBand('temperature', knockOut.outC)}
        />
        {knockOut.how === 'plate' && (
          <Fact name="wort a minute" value={showBand('volume', knockOut.wortLMin)} />
        )}
        <Fact name="takes" value={showBand('duration', knockOut.minutes)} />
        <Fact name="cooling liquor" value={showBand('volume', knockOut.liquorL)} />
        {knockOut.leftKWh.high > 0.05 && (
          <Fact
            name="left to take out in the tank"
            note={`down to ${show('temperature', knockOut.toC)}`}
            value={showBand('energy', knockOut.leftKWh)}
          />
        )}
      </dl>
      <p class="caution-line">
        Hot wort in hose and cooler scalds: clamps checked before the pump. Caustic from cleaning
        rinsed out until the rinse is neutral; goggles and gloves.
      </p>
      {pitch === undefined ? (
        <p class="plain">The beer names no yeast.</p>
      ) : (
        <Pitch pitch={pitch} yeast={yeast ?? 'Yeast'} />
      )}
      {beer !== undefined && (
        <>
          <h3>The beer, fermented to its limit</h3>
          <dl class="facts">
            <Fact name="end strength" value={extractBand(beer.endPlato)} />
            <Fact name="alcohol by volume" value={`${threeText(beer.abvPct, 1)} %`} />
          </dl>
        </>
      )}
    </div>
  );
}

function Pitch({ pitch, yeast }: { pitch: PitchPlan; yeast: string }) {
  return (
    <>
      <h3>{yeast}</h3>
      <dl class="facts">
        <Fact
          name="living cells"
          note={`${pitch.rate.toFixed(2)} million per mL and % of extract`}
          value={`${(pitch.cells / 1e12).toFixed(1)} million million`}
        />
        <Fact
          name="slurry"
          note={`at ${show('temperature', pitch.tC)}`}
          value={show('volume', pitch.slurryL)}
        />
        <Fact
          name="count to see in the tank"
          value={`${pitch.millionPerML.toFixed(0)} million/mL`}
        />
        <Fact
          name="oxygen"
          note={`air alone reaches ${pitch.airReachesMgL.toFixed(1)} mg/L`}
          value={`${pitch.oxygenG.toFixed(1)} g`}
        />
        {pitch.starter?.map((step, i) => (
          <Fact
            key={step.endsAfterH}
            name={`starter, step ${i + 1}`}
            note={`${step.hours.toFixed(0)} h, done after ${step.endsAfterH.toFixed(0)} h`}
            value={show('volume', step.volumeL)}
          />
        ))}
      </dl>
      {pitch.needsPureOxygen && (
        <p class="caution-line">
          Pure oxygen: cylinder chained, no oil or grease on the fittings, no flame near, valve shut
          after. Fermenting wort gives off CO₂: air the cellar before you go in.
        </p>
      )}
      {pitch.cautions.map((caution) => (
        <p class="plain" key={caution}>
          {inPair(caution)}
        </p>
      ))}
    </>
  );
}
