import type { Beer } from '@ladlework/planner';
import { Choice, NumberField, Tick } from '../form/fields.tsx';

type Kinetics = NonNullable<Beer['kinetics']>;

interface Props {
  readonly kinetics: Kinetics | undefined;
  /** Undefined when nothing is chosen: a standard lot, milled as usual. */
  readonly onKinetics: (kinetics: Kinetics | undefined) => void;
}

/** What of the mash kinetics this grist calls for, each with its meaning. */
export function KineticsFields({ kinetics = {}, onKinetics }: Props) {
  const set = <K extends keyof Kinetics>(key: K, value: Kinetics[K] | undefined) => {
    const { [key]: _old, ...rest } = kinetics;
    const next: Kinetics = value === undefined ? rest : { ...rest, [key]: value };
    onKinetics(Object.keys(next).length === 0 ? undefined : next);
  };
  return (
    <div class="kinetics">
      <div class="fields wide-fields">
        <NumberField
          label="Coarse or poorly modified share"
          path="kinetics.coarseShare"
          unit="%"
          value={percentOf(kinetics.coarseShare)}
          min={0}
          max={50}
          optional
          empty="none"
          hint="Share of the grist in pieces the liquor reaches slowly: a wide mill gap, or glassy ends. It is the one thing here that lets a pull win extract over an infusion; the boil opens what the rest leaves."
          onValue={(pct) => set('coarseShare', shareOf(pct))}
        />
        <NumberField
          label="Starch that only the boil opens"
          path="kinetics.resistantShare"
          unit="%"
          value={percentOf(kinetics.resistantShare)}
          min={0}
          max={20}
          optional
          empty="none"
          hint="Resistant starch, in reach at 90 °C only. No measured row gives it; enter what your own pulls have shown."
          onValue={(pct) => set('resistantShare', shareOf(pct))}
        />
      </div>
      <div class="options">
        <Tick
          label="Part of the limit dextrinase is bound and slowly freed"
          value={kinetics.boundLimitDextrinase === true}
          onValue={(on) => set('boundLimitDextrinase', on ? true : undefined)}
        />
        <Tick
          label="Alpha-glucosidase makes glucose from maltose"
          value={kinetics.glucosidase === true}
          onValue={(on) => set('glucosidase', on ? true : undefined)}
        />
      </div>
      <p class="small soft">
        The first meets the measured survival of limit dextrinase and puts the best attenuation at
        about 65 °C; limits fall by half a point. The second is for the share of glucose only and
        foretells the sugars no better.
      </p>
      <Choice
        label="Parameters"
        value={kinetics.parameters ?? 'recommended'}
        options={[
          {
            value: 'recommended',
            text: 'Recommended',
            why: 'enzymes erode granules below their melting point',
          },
          { value: 'plain', text: 'Plain', why: 'to compare; short on cool and thick mashes' },
        ]}
        onValue={(name) => set('parameters', name === 'plain' ? name : undefined)}
      />
    </div>
  );
}

const percentOf = (share: number | undefined): number | undefined =>
  share === undefined ? undefined : Math.round(share * 1000) / 10;
const shareOf = (pct: number | undefined): number | undefined =>
  pct === undefined || pct === 0 ? undefined : pct / 100;
