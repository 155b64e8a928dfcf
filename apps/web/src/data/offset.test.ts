import { describe, expect, it } from 'vitest';
import { clockOffset } from './offset.ts';

describe('the clock offset', () => {
  it('comes from the quickest answer', () => {
    const slow = { askedMs: 1000, answeredMs: 1900, serverMs: 9000 };
    const quick = { askedMs: 2000, answeredMs: 2020, serverMs: 7010 };
    expect(clockOffset([slow, quick])).toEqual({ offsetMs: 5000, errorMs: 10 });
  });

  it('ignores an answer that came before its question: the clock was set in between', () => {
    expect(clockOffset([{ askedMs: 5000, answeredMs: 1000, serverMs: 1 }])).toBeUndefined();
    expect(clockOffset([])).toBeUndefined();
  });
});
