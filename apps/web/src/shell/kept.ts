import { effect, type Signal, signal } from '@preact/signals';

/**
 * A signal whose value survives a reload on this device.
 *
 * @param key name in the page's local storage
 * @param initial value when nothing was kept
 * @param read checks what was kept; `undefined` falls back to `initial`
 */
export function kept<T>(key: string, initial: T, read: (raw: unknown) => T | undefined): Signal<T> {
  const value = signal(readKept(key, initial, read));
  effect(() => {
    writeKept(key, value.value);
  });
  return value;
}

/** Reads one kept value. */
export function readKept<T>(key: string, initial: T, read: (raw: unknown) => T | undefined): T {
  try {
    const text = localStorage.getItem(`ladlework.${key}`);
    if (text === null) return initial;
    return read(JSON.parse(text)) ?? initial;
  } catch {
    // Closed or damaged storage must never stop a brew day; the default serves.
    return initial;
  }
}

/** Keeps one value; `undefined` forgets it. Returns false when the device keeps nothing. */
export function writeKept(key: string, value: unknown): boolean {
  try {
    if (value === undefined) localStorage.removeItem(`ladlework.${key}`);
    else localStorage.setItem(`ladlework.${key}`, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

/** Accepts one of the words given. */
export const oneOf =
  <const W extends readonly string[]>(...words: W) =>
  (raw: unknown): W[number] | undefined =>
    words.find((word) => word === raw);
