import { describe, expect, it } from 'vitest';
import { Fingers, isMeant } from './press-guard.ts';

describe('a press', () => {
  const touch = { pointerType: 'touch', heldMs: 120, crowded: false };
  it('is meant from 80 ms on, by one finger', () => {
    expect(isMeant(touch)).toBe(true);
    expect(isMeant({ ...touch, heldMs: 80 })).toBe(true);
    expect(isMeant({ ...touch, heldMs: 79 })).toBe(false);
    expect(isMeant({ ...touch, crowded: true })).toBe(false);
  });

  it('is always meant by a key, a foot switch or a mouse', () => {
    for (const pointerType of ['', 'mouse', 'pen']) {
      expect(isMeant({ pointerType, heldMs: 0, crowded: true })).toBe(true);
    }
  });
});

describe('fingers on the page', () => {
  it('are crowded from the second on, also when it lands later', () => {
    const fingers = new Fingers();
    fingers.touch(1);
    expect([fingers.count, fingers.crowds]).toEqual([1, 0]);
    fingers.touch(2);
    expect([fingers.count, fingers.crowds]).toEqual([2, 1]);
    fingers.lift(1);
    fingers.lift(2);
    fingers.touch(3);
    expect([fingers.count, fingers.crowds]).toEqual([1, 1]);
  });

  it('do not stay down when the page loses them', () => {
    const fingers = new Fingers();
    fingers.touch(1);
    fingers.liftAll();
    fingers.touch(2);
    expect([fingers.count, fingers.crowds]).toEqual([1, 0]);
  });
});
