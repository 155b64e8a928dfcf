import { entryUnit, type Kind, parseQuantity } from '@ladlework/quantity';
import type { ComponentChildren } from 'preact';
import { useId, useRef } from 'preact/hooks';
import { pair } from '../shell/settings.ts';
import { bare, show } from '../units/show.ts';
import { useTyping } from './draft.ts';

interface Common {
  readonly label: string;
  /** Where the value stands in the form; keeps its half-typed text. */
  readonly path: string;
  readonly hint?: string | undefined;
}

interface FrameProps {
  readonly id: string;
  readonly label: string;
  readonly unit?: string | undefined;
  readonly hint?: string | undefined;
  readonly error?: string | undefined;
  readonly children: ComponentChildren;
}

/** Label, unit, hint and complaint around one field. */
export function Frame({ id, label, unit, hint, error, children }: FrameProps) {
  return (
    <div class={error === undefined ? 'field' : 'field bad'}>
      <label for={id}>{label}</label>
      <div class="control">
        {children}
        {unit !== undefined && <span class="unit">{unit}</span>}
      </div>
      {error !== undefined ? (
        <p class="field-error" id={`${id}-note`}>
          {error}
        </p>
      ) : (
        hint !== undefined && (
          <p class="hint" id={`${id}-note`}>
            {hint}
          </p>
        )
      )}
    </div>
  );
}

interface QuantityProps extends Common {
  readonly kind: Kind;
  /** House unit; undefined is an empty field. */
  readonly value: number | undefined;
  readonly onValue: (value: number | undefined) => void;
  readonly min?: number;
  readonly max?: number;
  readonly optional?: boolean;
  /** What the engine takes when the field stays empty. */
  readonly empty?: string;
  readonly digits?: number;
  /** Picks the unit of an empty field: a likely value, house unit. */
  readonly near?: number;
}

const EMPTY = { ok: true, value: undefined } as const;

/** A quantity in either unit: "152f", "62 °C", "3 bbl". */
export function QuantityField(props: QuantityProps) {
  const { kind, value, onValue, min, max, label, path } = props;
  const id = useId();
  const { text, type, leave } = useTyping(path);
  const unit = useUnit(props, text !== undefined);
  const written = value === undefined ? '' : bareIn(kind, value, unit, props.digits);
  const shown = text ?? written;
  const read = (raw: string) =>
    parseQuantity(kind, raw, {
      defaultUnit: unit,
      field: label,
      ...(min === undefined ? {} : { min }),
      ...(max === undefined ? {} : { max }),
    });
  const result =
    text === undefined || (props.optional && text.trim() === '') ? undefined : read(text);
  const error = result !== undefined && !result.ok ? result.error.message : undefined;
  return (
    <Frame id={id} label={label} unit={unit} hint={props.hint} error={error}>
      <input
        id={id}
        type="text"
        inputMode={kind === 'temperature' ? 'text' : 'decimal'}
        autocomplete="off"
        value={shown}
        placeholder={props.empty ?? ''}
        aria-invalid={error !== undefined}
        aria-describedby={
          error !== undefined || props.hint !== undefined ? `${id}-note` : undefined
        }
        onInput={(event) => {
          const raw = event.currentTarget.value;
          const now = props.optional && raw.trim() === '' ? EMPTY : read(raw);
          type(raw, now.ok);
          if (now.ok) onValue(now.value);
        }}
        onBlur={leave}
      />
    </Frame>
  );
}

/** Unit a bare number is read in; it holds still while a number is typed, however that grows. */
function useUnit({ kind, value, near, max }: QuantityProps, typing: boolean): string {
  const held = useRef<{ readonly pair: string; readonly unit: string } | undefined>(undefined);
  const { name } = pair.value;
  if (typing && held.current?.pair === name) return held.current.unit;
  // Nought has no size to pick a unit by.
  const size = value === undefined || value === 0 ? (near ?? Math.min(max ?? 100, 100)) : value;
  const unit = entryUnit(kind, pair.value, size);
  held.current = { pair: name, unit };
  return unit;
}

function bareIn(kind: Kind, value: number, unit: string, digits: number | undefined): string {
  const text = show(kind, value, digits);
  // `show` picks the unit by size; the field stays with the unit it names.
  return text.endsWith(` ${unit}`) ? text.slice(0, -unit.length - 1) : bare(kind, value, digits);
}

interface NumberProps extends Common {
  readonly value: number | undefined;
  readonly onValue: (value: number | undefined) => void;
  readonly min: number;
  readonly max: number;
  readonly unit?: string;
  readonly optional?: boolean;
  readonly empty?: string;
}

/** A number that has one unit everywhere: per cent, pH, colour. */
export function NumberField(props: NumberProps) {
  const { value, onValue, min, max, label, path, unit } = props;
  const id = useId();
  const { text, type, leave } = useTyping(path);
  const shown = text ?? (value === undefined ? '' : String(value));
  const error = text === undefined ? undefined : numberError(text, props);
  const end = unit === undefined ? '' : ` ${unit}`;
  return (
    <Frame
      id={id}
      label={label}
      unit={unit}
      hint={props.hint}
      error={
        error === undefined
          ? undefined
          : `${label}: "${text}" ${error}; allowed: ${min}${end} to ${max}${end}. Enter a number in that range.`
      }
    >
      <input
        id={id}
        type="text"
        inputMode="decimal"
        autocomplete="off"
        value={shown}
        placeholder={props.empty ?? ''}
        aria-invalid={error !== undefined}
        aria-describedby={
          error !== undefined || props.hint !== undefined ? `${id}-note` : undefined
        }
        onInput={(event) => {
          const raw = event.currentTarget.value;
          const readable = numberError(raw, props) === undefined;
          type(raw, readable);
          if (readable) {
            onValue(raw.trim() === '' ? undefined : Number(raw.trim().replace(',', '.')));
          }
        }}
        onBlur={leave}
      />
    </Frame>
  );
}

function numberError(
  text: string,
  { min, max, optional }: Pick<NumberProps, 'min' | 'max' | 'optional'>,
): string | undefined {
  const trimmed = text.trim().replace(',', '.');
  if (trimmed === '') return optional ? undefined : 'is empty';
  const number = Number(trimmed);
  if (!Number.isFinite(number)) return 'is not a number';
  if (number < min || number > max) return 'is out of range';
  return undefined;
}

interface TextProps extends Common {
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly optional?: boolean;
}

/** A name or a remark. */
export function TextField({ label, path, value, onValue, hint, optional }: TextProps) {
  const id = useId();
  const { text, type, leave } = useTyping(path);
  const shown = text ?? value;
  const missing = !optional && text !== undefined && text.trim() === '';
  return (
    <Frame
      id={id}
      label={label}
      hint={hint}
      error={missing ? `${label}: is empty. Enter a name.` : undefined}
    >
      <input
        id={id}
        type="text"
        class="wide"
        autocomplete="off"
        maxLength={120}
        value={shown}
        aria-invalid={missing}
        onInput={(event) => {
          const raw = event.currentTarget.value;
          const readable = optional === true || raw.trim() !== '';
          type(raw, readable);
          if (readable) onValue(raw);
        }}
        onBlur={leave}
      />
    </Frame>
  );
}

interface ChoiceProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly text: string; readonly why?: string }[];
  readonly onValue: (value: T) => void;
}

/** One of a few, all in view. */
export function Choice<T extends string>({ label, value, options, onValue }: ChoiceProps<T>) {
  const name = useId();
  return (
    <fieldset class="choice">
      <legend>{label}</legend>
      <div class="options">
        {options.map((option) => (
          <label key={option.value} class={option.value === value ? 'option on' : 'option'}>
            <input
              type="radio"
              name={name}
              checked={option.value === value}
              onChange={() => onValue(option.value)}
            />
            <span>
              {option.text}
              {option.why !== undefined && <small>{option.why}</small>}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

interface PickProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly text: string }[];
  readonly onValue: (value: T) => void;
  readonly hint?: string;
}

/** One of many. */
export function Pick<T extends string>({ label, value, options, onValue, hint }: PickProps<T>) {
  const id = useId();
  return (
    <Frame id={id} label={label} hint={hint}>
      <select
        id={id}
        value={value}
        onChange={(event) => onValue(event.currentTarget.value as T)}
        aria-describedby={hint === undefined ? undefined : `${id}-note`}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.text}
          </option>
        ))}
      </select>
    </Frame>
  );
}

interface TickProps {
  readonly label: string;
  readonly value: boolean;
  readonly onValue: (value: boolean) => void;
}

/** Yes or no. */
export function Tick({ label, value, onValue }: TickProps) {
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={value}
        onChange={(event) => onValue(event.currentTarget.checked)}
      />
      <span>{label}</span>
    </label>
  );
}

/** Several of a few. */
export function Ticks({
  label,
  values,
  options,
  onValues,
}: {
  readonly label: string;
  readonly values: readonly string[];
  readonly options: readonly { readonly value: string; readonly text: string }[];
  readonly onValues: (values: string[]) => void;
}) {
  return (
    <fieldset class="choice">
      <legend>{label}</legend>
      <div class="options">
        {options.map((option) => (
          <Tick
            key={option.value}
            label={option.text}
            value={values.includes(option.value)}
            onValue={(on) =>
              onValues(
                on ? [...values, option.value] : values.filter((value) => value !== option.value),
              )
            }
          />
        ))}
      </div>
    </fieldset>
  );
}
