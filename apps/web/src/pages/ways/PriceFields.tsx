import { FUELS, type Fuel, type PlanDocument, type PriceList, pricesOf } from '@ladlework/planner';
import { DraftTexts, useDraft } from '../../form/draft.ts';
import { NumberField, TextField } from '../../form/fields.tsx';
import { prices } from './prices.ts';

const FUEL_NAMES: Readonly<Record<Fuel, string>> = {
  gas: 'Gas',
  propane: 'Propane',
  electricity: 'Current',
  steam: 'Steam',
};

/** What hands, heat and malt cost this house. */
export function PriceFields({ document }: { document: PlanDocument }) {
  // The half-typed texts are the draft's; the prices themselves are kept as they are read.
  const texts = useDraft<object>('prices', {});
  const list = prices.value;
  const usual = pricesOf({ ...document, prices: {} });
  const money = list.currency === undefined ? '' : `${list.currency} `;
  const set = (change: { [K in keyof PriceList]?: PriceList[K] | undefined }) => {
    const next = Object.entries({ ...list, ...change }).filter(([, v]) => v !== undefined);
    prices.value = Object.fromEntries(next);
  };
  const setFuel = (fuel: Fuel, perKWh: number | undefined) => {
    const next = { ...list.energyPerKWh, [fuel]: perKWh };
    const named = Object.entries(next).filter(([, v]) => v !== undefined);
    set({ energyPerKWh: named.length === 0 ? undefined : Object.fromEntries(named) });
  };
  return (
    <DraftTexts.Provider value={texts}>
      <details class="certificate prices">
        <summary>
          Your prices{' '}
          <span class="soft">
            {Object.keys(list).length === 0
              ? 'none named; usual ones are taken'
              : 'kept on this device'}
          </span>
        </summary>
        <div class="fields">
          <TextField
            label="Money"
            path="currency"
            value={list.currency ?? ''}
            optional
            hint="its sign or short name"
            onValue={(text) =>
              set({ currency: text.trim() === '' ? undefined : text.trim().slice(0, 12) })
            }
          />
          <NumberField
            label="One pair of hands"
            path="labourPerHour"
            unit={`${money}/h`}
            value={list.labourPerHour}
            min={0}
            max={1000}
            optional
            empty={String(usual.perHour)}
            onValue={(labourPerHour) => set({ labourPerHour })}
          />
          {FUELS.map((fuel) => (
            <NumberField
              key={fuel}
              label={FUEL_NAMES[fuel]}
              path={`fuel.${fuel}`}
              unit={`${money}/kWh`}
              value={list.energyPerKWh?.[fuel]}
              min={0}
              max={100}
              optional
              empty={String(usual.perKWh)}
              onValue={(perKWh) => setFuel(fuel, perKWh)}
            />
          ))}
          <NumberField
            label="Malt without a price of its own"
            path="maltPerKg"
            unit={`${money}/kg`}
            value={list.maltPerKg}
            min={0}
            max={1000}
            optional
            empty="not counted"
            onValue={(maltPerKg) => set({ maltPerKg })}
          />
        </div>
      </details>
    </DraftTexts.Provider>
  );
}
