import { describe, expect, it } from 'vitest';
import { countdown } from './countdown.ts';

describe('countdown', () => {
  it('says what is left, and what is over', () => {
    expect(countdown(125_000)).toBe('2:05');
    expect(countdown(-40_000)).toBe('+0:40');
    expect(countdown(3_725_000)).toBe('1:02:05');
    expect(countdown(0)).toBe('0:00');
  });
});
