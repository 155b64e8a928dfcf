import { expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { TWO_PULLS } from '../live-testing.ts';
import { dayFrom } from './shift-day.ts';

const DAY: PlanDocument = {
  ...TWO_PULLS,
  kit: {
    ...TWO_PULLS.kit,
    hands: [
      { id: 'B', name: 'Brewer' },
      { id: 'H', name: 'Helper', untilMin: 360 },
    ],
  },
  day: {
    ...TWO_PULLS.day,
    startMin: 360,
    events: [
      { name: 'Post', atMin: 30, minutes: 5, hands: 1 },
      { name: 'Malt delivery', atMin: 300, minutes: 20, hands: 1 },
    ],
    breaks: [{ hand: 'B', minutes: 30, fromMin: 200, untilMin: 420 }],
    finishByMin: 720,
    wishFinishMin: 660,
  },
};

it('keeps what has its own hour at its hour when the day begins at 07:10 in place of 06:00', () => {
  const { day, kit } = dayFrom(DAY, 430);
  expect(day.startMin).toBe(430);
  // 11:00 is 230 min after 07:10; the post of 06:30 is over.
  expect(day.events).toEqual([{ name: 'Malt delivery', atMin: 230, minutes: 20, hands: 1 }]);
  expect(day.breaks?.[0]).toMatchObject({ fromMin: 130, untilMin: 350 });
  expect([day.finishByMin, day.wishFinishMin]).toEqual([650, 590]);
  // The helper leaves at noon all the same.
  expect(kit.hands[1]?.untilMin).toBe(290);
});

it('is the same document when the day begins as planned', () => {
  expect(dayFrom(DAY, 360)).toBe(DAY);
});
