import { formatClock, parseClock } from '@ladlework/quantity';
import { useId } from 'preact/hooks';
import { useTyping } from './draft.ts';
import { Frame } from './fields.tsx';

interface Props {
  readonly label: string;
  /** Where the value stands in the form; keeps its half-typed text. */
  readonly path: string;
  /** Minutes after midnight; left out while it is empty. */
  readonly value: number | undefined;
  readonly onValue: (minute: number | undefined) => void;
  readonly optional?: boolean;
  /** What holds while it is empty. */
  readonly empty?: string;
  readonly hint?: string;
}

/** A time of day, as 06:00. */
export function ClockField({ label, path, value, onValue, optional, empty, hint }: Props) {
  const id = useId();
  const { text, type, leave } = useTyping(path);
  const isEmpty = (raw: string) => optional === true && raw.trim() === '';
  const read = text === undefined || isEmpty(text) ? undefined : parseClock(text, { field: label });
  const error = read !== undefined && !read.ok ? read.error.message : undefined;
  return (
    <Frame id={id} label={label} hint={hint} error={error}>
      <input
        id={id}
        type="text"
        autocomplete="off"
        placeholder={empty ?? ''}
        value={text ?? (value === undefined ? '' : formatClock(value % 1440))}
        aria-invalid={error !== undefined}
        aria-describedby={error === undefined && hint === undefined ? undefined : `${id}-note`}
        onInput={(event) => {
          const raw = event.currentTarget.value;
          if (isEmpty(raw)) {
            type(raw, true);
            onValue(undefined);
            return;
          }
          const now = parseClock(raw, { field: label });
          type(raw, now.ok);
          if (now.ok) onValue(now.value);
        }}
        onBlur={leave}
      />
    </Frame>
  );
}
