import type { ExtractWanted } from '@ladlework/brewhouse';
import { platoFromSg } from '@ladlework/matter';
import { parseExtract } from '@ladlework/quantity';
import { useId } from 'preact/hooks';
import { showExtract } from '../units/show.ts';
import { useTyping } from './draft.ts';
import { Frame } from './fields.tsx';

interface Props {
  readonly label: string;
  readonly path: string;
  readonly value: ExtractWanted | undefined;
  readonly onValue: (value: ExtractWanted | undefined) => void;
}

/** What a brew file takes as the extract of a beer: by weight [°P], by volume [g/100 mL]. */
const WEIGHT = { min: 2, max: 30 } as const;
const VOLUME = { min: 2, max: 34 } as const;

/** Extract wanted, in the notation it was written in; by weight and by volume are never mixed. */
export function ExtractField({ label, path, value, onValue }: Props) {
  const id = useId();
  const { text, type, leave } = useTyping(path);
  const answer = text === undefined ? undefined : read(text, label);
  const error = answer !== undefined && !answer.ok ? answer.why : undefined;
  return (
    <Frame
      id={id}
      label={label}
      error={error}
      hint={
        value === undefined
          ? '"12 °P" or "1.048" is by weight, "12.6 g/100 mL" by volume'
          : value.by === 'weight'
            ? 'by weight of the wort (w/w)'
            : 'by volume of the wort (w/v)'
      }
    >
      <input
        id={id}
        type="text"
        autocomplete="off"
        placeholder="not asked for"
        value={text ?? written(value)}
        aria-invalid={error !== undefined}
        aria-describedby={`${id}-note`}
        onInput={(event) => {
          const raw = event.currentTarget.value;
          const now = read(raw, label);
          type(raw, now.ok);
          if (now.ok) onValue(now.value);
        }}
        onBlur={leave}
      />
    </Frame>
  );
}

const written = (value: ExtractWanted | undefined): string =>
  value === undefined
    ? ''
    : value.by === 'weight'
      ? showExtract(value.plato)
      : `${value.gPer100mL} g/100 mL`;

type Answer =
  | { readonly ok: true; readonly value: ExtractWanted | undefined }
  | { readonly ok: false; readonly why: string };

function read(raw: string, label: string): Answer {
  if (raw.trim() === '') return { ok: true, value: undefined };
  const parsed = parseExtract(raw, { field: label });
  if (!parsed.ok) return { ok: false, why: parsed.error.message };
  const { notation, value } = parsed.value;
  const byVolume = notation === 'g/100mL';
  const figure = notation === 'sg' ? platoFromSg(value) : value;
  const { min, max } = byVolume ? VOLUME : WEIGHT;
  if (figure < min || figure > max) {
    const allowed = byVolume
      ? `${min} to ${max} g/100 mL`
      : `${showExtract(min)} to ${showExtract(max)}`;
    return {
      ok: false,
      why: `${label}: "${raw}" is out of range; allowed: ${allowed}. Enter an extract in that range.`,
    };
  }
  return {
    ok: true,
    value: byVolume ? { by: 'volume', gPer100mL: figure } : { by: 'weight', plato: figure },
  };
}
