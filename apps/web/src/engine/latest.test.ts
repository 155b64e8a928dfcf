import { ok } from '@ladlework/quantity';
import { describe, expect, it } from 'vitest';
import { latestOnly } from './latest.ts';

describe('latestOnly', () => {
  it('answers the first and the newest, and tells the ones between', async () => {
    const asked: number[] = [];
    const release: (() => void)[] = [];
    const ask = latestOnly<number, number>(async (n) => {
      asked.push(n);
      await new Promise<void>((done) => release.push(done));
      return ok(n * 10);
    });
    const answers = [ask(1), ask(2), ask(3)];
    release[0]?.();
    expect(await answers[0]).toEqual({ ok: true, value: 10 });
    expect(await answers[1]).toMatchObject({ ok: false, error: { code: 'superseded' } });
    release[1]?.();
    expect(await answers[2]).toEqual({ ok: true, value: 30 });
    expect(asked).toEqual([1, 3]);
  });

  it('runs again after it fell idle', async () => {
    const ask = latestOnly<number, number>(async (n) => ok(n));
    expect(await ask(1)).toEqual({ ok: true, value: 1 });
    expect(await ask(2)).toEqual({ ok: true, value: 2 });
  });
});
