import type { PlanDocument, RestWish } from '@ladlework/planner';
import { ClockField } from '../../form/ClockField.tsx';
import { Choice, NumberField, Pick, QuantityField, Ticks } from '../../form/fields.tsx';
import { show } from '../../units/show.ts';
import { type TargetDraft, wishesOf } from './targets.ts';

interface Props {
  readonly draft: TargetDraft;
  readonly document: PlanDocument;
  readonly set: (change: Partial<TargetDraft>) => void;
}

/** What the brewer wants of a plan; an empty field limits nothing. */
export function TargetFields({ draft, document, set }: Props) {
  const { kit, mash, day } = document;
  const wishes = wishesOf(draft, document);
  const setWish = (i: number, wish: RestWish) =>
    set({ rests: wishes.map((w, k) => (k === i ? wish : w)) });
  return (
    <>
      <div class="wishes">
        {mash.rests.map((rest, i) => (
          <Wish
            // A rest has no name but its place.
            key={`${i} ${rest.tempC}`}
            name={`Rest ${i + 1}, ${show('temperature', rest.tempC, 0)} for ${show('duration', rest.minutes)}`}
            path={`rest.${i}`}
            tempC={rest.tempC}
            wish={wishes[i] ?? { wanted: 'yes' }}
            onWish={(wish) => setWish(i, wish)}
          />
        ))}
      </div>
      <div class="fields">
        <NumberField
          label="Limit of attenuation, from"
          path="limitLow"
          unit="%"
          value={draft.limitLow}
          min={0}
          max={100}
          optional
          empty="any"
          onValue={(limitLow) => set({ limitLow })}
        />
        <NumberField
          label="to"
          path="limitHigh"
          unit="%"
          value={draft.limitHigh}
          min={draft.limitLow ?? 0}
          max={100}
          optional
          empty="any"
          onValue={(limitHigh) => set({ limitHigh })}
        />
        <NumberField
          label="Colour from the boils, from"
          path="colourLow"
          unit="EBC"
          value={draft.colourLow}
          min={0}
          max={1000}
          optional
          empty="any"
          onValue={(colourLow) => set({ colourLow })}
        />
        <NumberField
          label="to"
          path="colourHigh"
          unit="EBC"
          value={draft.colourHigh}
          min={draft.colourLow ?? 0}
          max={1000}
          optional
          empty="any"
          onValue={(colourHigh) => set({ colourHigh })}
        />
        <QuantityField
          label="Extract, at least"
          path="extractKg"
          kind="mass"
          value={draft.extractKg}
          min={0}
          max={10_000}
          near={50}
          optional
          empty="any"
          onValue={(extractKg) => set({ extractKg })}
        />
        <ClockField
          label="All done by"
          path="finish"
          value={draft.finishClockMin}
          optional
          empty={day.finishByMin === undefined ? 'any hour' : 'as the day says'}
          onValue={(finishClockMin) => set({ finishClockMin })}
        />
        <Pick
          label="Pulls at most"
          value={draft.mostPulls === undefined ? 'any' : String(draft.mostPulls)}
          options={[
            { value: 'any', text: 'any number' },
            ...['0', '1', '2', '3'].map((n) => ({ value: n, text: n === '0' ? 'none' : n })),
          ]}
          onValue={(n) => set({ mostPulls: n === 'any' ? undefined : Number(n) })}
        />
        <QuantityField
          label="Heaviest load to lift"
          path="mostLiftKg"
          kind="mass"
          value={draft.mostLiftKg}
          min={0.5}
          max={200}
          near={20}
          optional
          empty="any"
          onValue={(mostLiftKg) => set({ mostLiftKg })}
        />
      </div>
      <Ticks
        label="Hands at work"
        values={draft.hands ?? day.hands ?? kit.hands.map((h) => h.id)}
        options={kit.hands.map((h) => ({ value: h.id, text: `${h.id} ${h.name}` }))}
        onValues={(hands) => set({ hands })}
      />
    </>
  );
}

interface WishProps {
  readonly name: string;
  readonly path: string;
  readonly tempC: number;
  readonly wish: RestWish;
  readonly onWish: (wish: RestWish) => void;
}

function Wish({ name, path, tempC, wish, onWish }: WishProps) {
  const bound = (end: 'lowC' | 'highC', value: number | undefined) => {
    const { [end]: _old, ...rest } = wish;
    onWish(value === undefined ? rest : { ...rest, [end]: value });
  };
  return (
    <div class="wish">
      <Choice
        label={name}
        value={wish.wanted}
        options={[
          { value: 'yes', text: 'Wanted' },
          { value: 'free', text: 'With or without' },
          { value: 'no', text: 'Not wanted' },
        ]}
        onValue={(wanted) => onWish({ ...wish, wanted })}
      />
      {wish.wanted !== 'no' && (
        <div class="fields">
          <QuantityField
            label="or as low as"
            path={`${path}.low`}
            kind="temperature"
            value={wish.lowC}
            min={35}
            max={tempC}
            optional
            empty="as it is"
            onValue={(c) => bound('lowC', c)}
          />
          <QuantityField
            label="or as high as"
            path={`${path}.high`}
            kind="temperature"
            value={wish.highC}
            min={tempC}
            max={80}
            optional
            empty="as it is"
            onValue={(c) => bound('highC', c)}
          />
        </div>
      )}
    </div>
  );
}
