import { describe, expect, it } from 'vitest';
import { pressesLarge } from './large-key.ts';

describe('the large button', () => {
  it('is pressed by space and enter while nothing has the focus', () => {
    for (const key of [' ', 'Enter']) {
      expect(pressesLarge(key, 'page', false)).toBe(true);
      // The browser presses the control itself; a box takes the key.
      expect(pressesLarge(key, 'control', true)).toBe(false);
      expect(pressesLarge(key, 'field', true)).toBe(false);
    }
  });

  it('is pressed by what foot switches send only where there is said to be one', () => {
    for (const key of ['PageDown', 'ArrowRight', 'AudioVolumeUp']) {
      expect(pressesLarge(key, 'page', false)).toBe(false);
      expect(pressesLarge(key, 'control', true)).toBe(true);
      expect(pressesLarge(key, 'field', true)).toBe(false);
    }
  });

  it('is pressed by no other key', () => {
    for (const key of ['a', '1', 'Tab', 'Escape', 'PageUp', 'F5']) {
      expect(pressesLarge(key, 'page', true)).toBe(false);
    }
  });
});
