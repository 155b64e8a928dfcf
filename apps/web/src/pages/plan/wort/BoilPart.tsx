import type { BoilPlanned, WortPlan } from '@ladlework/planner';
import { threeText } from '../../../units/band-text.ts';
import { inPair, show, showBand } from '../../../units/show.ts';
import { Fact } from '../../Fact.tsx';

const FOAM: Readonly<Record<BoilPlanned['foam'], string | undefined>> = {
  room: undefined,
  watch:
    'Little room over the wort: stand by it as it comes to the boil, heat down, cold water to hand. A boil-over scalds.',
  'will-boil-over':
    'This will boil over and scald: take less wort, or bring it up in two parts with the heat down.',
};

interface Props {
  readonly boil: BoilPlanned;
  readonly castOut: WortPlan['stages'][number] | undefined;
}

/** Boil-off, room for foam, hops and what they give, DMS. */
export function BoilPart({ boil, castOut }: Props) {
  const foam = FOAM[boil.foam];
  return (
    <div>
      <h3>Boil in {boil.vessel}</h3>
      <dl class="facts">
        <Fact
          name="boils at"
          note={`${show('power', boil.netKW)} into the wort`}
          value={show('temperature', boil.boilC)}
        />
        {boil.heatUpMin.high >= 1 && (
          <Fact name="comes to the boil in" value={showBand('duration', boil.heatUpMin)} />
        )}
        <Fact name="boil" value={show('duration', boil.minutes)} />
        <Fact name="boiled off an hour" value={showBand('mass', boil.evaporationKgH)} />
        <Fact
          name="room over the wort"
          note={`boils over in ${Math.round(boil.boilOverShare * 100)} of 100 such brews`}
          value={`${threeText(percent(boil.headspace), 0)} % of the kettle`}
        />
        {castOut?.freeDmsUgL !== undefined && (
          <Fact name="DMS in the wort" value={`${threeText(castOut.freeDmsUgL, 0)} µg/L`} />
        )}
      </dl>
      {foam !== undefined && <p class="caution-line">{foam}</p>}
      {boil.dmsCaution !== undefined && <p class="plain">{inPair(boil.dmsCaution)}</p>}
      <h3>Hops</h3>
      {boil.hops.length === 0 ? (
        <p class="plain">The beer names no hops; without them its wort is not bitter.</p>
      ) : (
        <dl class="facts">
          {boil.hops.map((hop, i) => (
            <Fact
              key={`${hop.name}.${i}`}
              name={`${hop.name}, ${hop.boilMin === 'stand' ? 'heat off' : `${hop.boilMin} min`}`}
              note={hopNote(boil, i)}
              value={`${hop.ibu.toFixed(1)} mg/L`}
            />
          ))}
        </dl>
      )}
    </div>
  );
}

const percent = (band: BoilPlanned['headspace']) => ({
  low: band.low * 100,
  likely: band.likely * 100,
  high: band.high * 100,
});

function hopNote(boil: BoilPlanned, at: number): string {
  const hop = boil.hops[at];
  if (hop === undefined) return '';
  const wish = boil.hopsForWishKg?.[at];
  return (
    `${show('mass', hop.kg)} with ${hop.alphaPct.toFixed(1)} % alpha today; ` +
    `${hop.otherIbu.toFixed(1)} mg/L reckoned the other way` +
    (wish === undefined ? '' : `; ${show('mass', wish)} for the bitterness asked`)
  );
}
