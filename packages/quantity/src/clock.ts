import type { ClockMinutes } from './brands.ts';
import { fail, ok, type QuantityError, type Result } from './result.ts';
import { LONGEST_ENTRY, tidy } from './scan.ts';

const DAY_MIN = 1440;

/**
 * Reads a time of day.
 *
 * @param input "7:05", "07.05", "0705", "7:05 pm"; hours 0 to 23 (1 to 12 with am or pm)
 * @param options name of the field
 * @returns minutes since midnight, 0 to 1439, or the refusal
 * @example parseClock('7:05') // { ok: true, value: 425 }
 */
export function parseClock(
  input: unknown,
  options: { readonly field?: string } = {},
): Result<ClockMinutes, QuantityError> {
  const field = options.field ?? 'time of day';
  const shown = typeof input === 'string' ? input.slice(0, LONGEST_ENTRY) : typeof input;
  const refused = (code: QuantityError['code'], why: string) =>
    fail({
      code,
      field,
      value: shown,
      allowed: '00:00 to 23:59',
      message: `${field}: "${shown}" ${why}; allowed: 00:00 to 23:59. Enter a time such as "7:05".`,
    });
  if (typeof input !== 'string') return refused('not-a-number', 'is not a time of day');
  let text = tidy(input).toLowerCase();
  if (text === '') return refused('empty', 'is empty');
  let half: 'am' | 'pm' | undefined;
  if (text.endsWith('am') || text.endsWith('pm')) {
    half = text.endsWith('am') ? 'am' : 'pm';
    text = text.slice(0, -2).trim();
  }
  const parts = splitClock(text);
  if (parts === undefined) return refused('not-a-number', 'is not a time of day');
  let { hour } = parts;
  const inHalf = half === undefined ? hour <= 23 : hour >= 1 && hour <= 12;
  if (!inHalf || parts.minute > 59) return refused('out-of-range', 'is not a time of day');
  if (half !== undefined) hour = (hour % 12) + (half === 'pm' ? 12 : 0);
  return ok((hour * 60 + parts.minute) as ClockMinutes);
}

function splitClock(text: string): { hour: number; minute: number } | undefined {
  let hourText: string;
  let minuteText: string;
  const mark = text.includes(':') ? ':' : text.includes('.') ? '.' : undefined;
  if (mark !== undefined) {
    const [a = '', b = '', rest] = text.split(mark);
    if (rest !== undefined || b.length !== 2) return undefined;
    hourText = a;
    minuteText = b;
  } else if (text.length === 4 || text.length === 3) {
    hourText = text.slice(0, -2);
    minuteText = text.slice(-2);
  } else {
    hourText = text;
    minuteText = '0';
  }
  if (hourText.length < 1 || hourText.length > 2) return undefined;
  for (const ch of hourText + minuteText) if (ch < '0' || ch > '9') return undefined;
  return { hour: Number(hourText), minute: Number(minuteText) };
}

/**
 * A time of day as "07:05"; times past midnight wrap.
 *
 * @param minutesSinceMidnight [min], any finite number; rounded to whole minutes
 * @example formatClock(425) // "07:05"
 */
export function formatClock(minutesSinceMidnight: number): string {
  const m = ((Math.round(minutesSinceMidnight) % DAY_MIN) + DAY_MIN) % DAY_MIN;
  return `${String(Math.floor(m / 60)).padStart(2, '0')}:${String(m % 60).padStart(2, '0')}`;
}
