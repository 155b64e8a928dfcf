import { useId } from 'preact/hooks';
import { NumberField, QuantityField, Tick } from '../../form/fields.tsx';
import type { Control } from './kit-controls.ts';

interface Props {
  readonly control: Control;
  readonly value: number | undefined;
  readonly onValue: (value: number | undefined) => void;
}

/** A number that is slid, stepped or typed; keys move it too. */
export function Slide({ control, value, onValue }: Props) {
  const id = useId();
  const now = value ?? control.own;
  const set = (next: number) => {
    const held = Math.min(control.max, Math.max(control.min, next));
    onValue(held === control.own ? undefined : held);
  };
  if (control.as === 'tick')
    return <Tick label={control.label} value={now === 1} onValue={(on) => set(on ? 1 : 0)} />;
  const field = {
    label: control.label,
    path: control.key,
    value: now,
    min: control.min,
    max: control.max,
    onValue: (next: number | undefined) => next !== undefined && set(next),
    hint: value === undefined ? undefined : 'changed',
  };
  return (
    <div class={value === undefined ? 'slide' : 'slide moved'}>
      {'kind' in control.as ? (
        <QuantityField
          {...field}
          kind={control.as.kind}
          near={Math.max(control.own, control.step)}
        />
      ) : (
        <NumberField {...field} unit={control.as.unit} />
      )}
      <div class="slider">
        <button
          type="button"
          class="btn"
          aria-label={`${control.label}, less`}
          onClick={() => set(now - control.step)}
        >
          −
        </button>
        <input
          id={id}
          type="range"
          aria-label={`${control.label}, slider`}
          min={control.min}
          max={control.max}
          step={control.step}
          value={now}
          onInput={(event) => set(Number(event.currentTarget.value))}
        />
        <button
          type="button"
          class="btn"
          aria-label={`${control.label}, more`}
          onClick={() => set(now + control.step)}
        >
          +
        </button>
      </div>
    </div>
  );
}
