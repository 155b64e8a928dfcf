import type { Beer } from '@ladlework/planner';
import { QuantityField, Tick } from '../form/fields.tsx';

interface Props {
  readonly beer: Beer;
  readonly onBeer: (beer: Beer) => void;
}

/** What goes into the mash beside malt and liquor, as far as it undoes what the kinetics know. */
export function AddedFields({ beer, onBeer }: Props) {
  return (
    <>
      <QuantityField
        label="Raw cereal cooked apart, without malt"
        path="cookedAdjunctKg"
        kind="mass"
        value={beer.cookedAdjunctKg}
        min={0.001}
        max={10000}
        near={5}
        optional
        empty="none"
        hint="Rice, maize or other raw grain boiled alone. It is in no figure; entered here, the plan says which ones fail for it."
        onValue={(kg) => {
          const { cookedAdjunctKg: _old, ...rest } = beer;
          onBeer(kg === undefined ? rest : { ...rest, cookedAdjunctKg: kg });
        }}
      />
      <Tick
        label="Enzymes from a bottle go into the mash"
        value={beer.addedEnzymes === true}
        onValue={(on) => {
          const { addedEnzymes: _old, ...rest } = beer;
          onBeer(on ? { ...rest, addedEnzymes: true } : rest);
        }}
      />
    </>
  );
}
