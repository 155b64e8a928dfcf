import type { Route, RouteHow } from '@ladlework/brewhouse';
import { NumberField, Pick, QuantityField, TextField } from '../../form/fields.tsx';
import { Remove } from './Remove.tsx';

const HOWS: readonly { value: RouteHow; text: string }[] = [
  { value: 'ladle', text: 'ladle' },
  { value: 'bucket', text: 'bucket' },
  { value: 'pump', text: 'pump' },
  { value: 'gravity', text: 'gravity' },
];

interface RouteProps {
  readonly route: Route;
  readonly path: string;
  readonly onRoute: (next: Route) => void;
  readonly onRemove: () => void;
}

/** How a content is carried, and what that costs it in heat. */
export function RouteFields({ route, path, onRoute, onRemove }: RouteProps) {
  const set = (change: Partial<Route>) => onRoute({ ...route, ...change });
  return (
    <div class="thing">
      <header>
        <h3>{route.name}</h3>
        <Remove name={route.name} onRemove={onRemove} />
      </header>
      <div class="fields">
        <TextField
          label="Name"
          path={`${path}.name`}
          value={route.name}
          onValue={(name) => set({ name })}
        />
        <Pick label="How" value={route.how} options={HOWS} onValue={(how) => set({ how })} />
        <QuantityField
          label={
            route.how === 'pump' || route.how === 'gravity' ? 'Litres a minute move' : 'One portion'
          }
          path={`${path}.portionL`}
          kind="volume"
          value={route.portionL}
          min={0.1}
          max={500}
          onValue={(portionL) => portionL !== undefined && set({ portionL })}
        />
        <QuantityField
          label="From one portion to the next"
          path={`${path}.minutesPerPortion`}
          kind="duration"
          value={route.minutesPerPortion}
          digits={2}
          min={0.02}
          max={30}
          onValue={(minutesPerPortion) =>
            minutesPerPortion !== undefined && set({ minutesPerPortion })
          }
        />
        <NumberField
          label="Hot surface of a portion"
          path={`${path}.openAreaM2`}
          unit="m²"
          value={route.openAreaM2}
          min={0}
          max={5}
          onValue={(openAreaM2) => openAreaM2 !== undefined && set({ openAreaM2 })}
        />
        <NumberField
          label="Heat the carrier takes up"
          path={`${path}.carrierKJK`}
          unit="kJ/K"
          value={route.carrierKJK}
          min={0}
          max={200}
          onValue={(carrierKJK) => carrierKJK !== undefined && set({ carrierKJK })}
        />
        <QuantityField
          label="Left in hose or line"
          path={`${path}.lineL`}
          kind="volume"
          value={route.lineL}
          min={0}
          max={200}
          onValue={(lineL) => lineL !== undefined && set({ lineL })}
        />
        <Pick
          label="Pairs of hands"
          value={String(route.hands)}
          options={[
            { value: '1', text: 'one' },
            { value: '2', text: 'two' },
          ]}
          onValue={(hands) => set({ hands: hands === '2' ? 2 : 1 })}
        />
      </div>
    </div>
  );
}
