import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { readKept, writeKept } from '../shell/kept.ts';
import { pair } from '../shell/settings.ts';
import { FirmButton } from './FirmButton.tsx';
import { padKey } from './half-typed.ts';
import { type PadFigure, padScale, stepped } from './pad-steps.ts';
import { SayIt } from './SayIt.tsx';

export interface PadReading {
  readonly value: number;
  readonly unit: string;
  readonly text: string;
}

interface Props {
  /** Names brew, vessel and what is read; the half-typed value is kept under it. */
  readonly keptAs: string;
  readonly title: string;
  readonly what: PadFigure;
  /** Preset, SI. */
  readonly expected: number;
  readonly verb: string;
  readonly onRead: (reading: PadReading) => void;
  /** Stands above the keys: what is read. */
  readonly children: ComponentChildren;
}

/** Fits a key: 0.001 is written .001, as gravity is. */
const stepText = (size: number): string =>
  size < 0.01 ? String(size).replace(/^0/, '') : String(size);

/** Number pad for wet gloves: preset to what is expected, stepped, confirmed. */
export function NumberPad({ keptAs, title, what, expected, verb, onRead, children }: Props) {
  const scale = padScale(what, pair.value, expected);
  const key = padKey(keptAs, scale.unit);
  const typed = useSignal<string | undefined>(undefined);
  const keys = useSignal(false);
  useEffect(() => {
    typed.value = readKept<string | undefined>(key, undefined, (raw) =>
      typeof raw === 'string' ? raw : undefined,
    );
    keys.value = false;
  }, [key, typed, keys]);

  const preset = scale.fromSi(expected).toFixed(scale.digits);
  const text = typed.value ?? preset;
  const number = text === '' || text === '-' ? Number.NaN : Number(text);
  const type = (next: string | undefined) => {
    typed.value = next;
    writeKept(key, next);
  };
  const step = (size: number, sign: 1 | -1) => () => {
    const from = Number.isFinite(number) ? number : Number(preset);
    type(stepped(from, size, sign, scale.digits).toFixed(scale.digits));
  };
  const press = (digit: string) => () => {
    const base = typed.value ?? '';
    if (digit === '.' && base.includes('.')) return;
    if (base.length < 6) type(base + digit);
  };
  const read = () => {
    if (!Number.isFinite(number)) return;
    onRead({ value: scale.toSi(number), unit: scale.unitOf(number), text });
    type(undefined);
    keys.value = false;
  };
  return (
    <section class={keys.value ? 'pad typing' : 'pad'} aria-label={title}>
      <div class="pad-head">{children}</div>
      <button
        type="button"
        class="pad-value"
        aria-label={`${title}: ${text} ${scale.unit}. ${keys.value ? 'Show steps' : 'Show digits'}`}
        onClick={() => {
          keys.value = !keys.value;
          if (keys.value) type('');
          else if (typed.value === '') type(undefined);
        }}
      >
        <span class="pad-number">{text === '' ? ' ' : text}</span>{' '}
        <span class="pad-unit">{scale.unit}</span>
      </button>
      {keys.value ? (
        <div class="pad-keys digits">
          {['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0'].map((digit) => (
            <FirmButton key={digit} class="key" onFirm={press(digit)}>
              {digit}
            </FirmButton>
          ))}
          <FirmButton
            class="key"
            label="Take the last digit away"
            onFirm={() => type((typed.value ?? '').slice(0, -1))}
          >
            ←
          </FirmButton>
        </div>
      ) : (
        <div class="pad-keys">
          {scale.steps.map((size) => (
            <FirmButton key={size} class="key" label={`${size} less`} onFirm={step(size, -1)}>
              −{stepText(size)}
            </FirmButton>
          ))}
          {scale.steps.map((size) => (
            <FirmButton key={size} class="key" label={`${size} more`} onFirm={step(size, 1)}>
              +{stepText(size)}
            </FirmButton>
          ))}
        </div>
      )}
      <FirmButton class="key read" disabled={!Number.isFinite(number)} onFirm={read}>
        {verb}
      </FirmButton>
      {what !== 'flow' && (
        <SayIt
          what={what}
          expected={expected}
          onValue={(si) => {
            type(scale.fromSi(si).toFixed(scale.digits));
            keys.value = false;
          }}
        />
      )}
    </section>
  );
}
