import { expect, it } from 'vitest';
import type { LogEvent } from './event.ts';
import { settle } from './settle.ts';
import { Tablet, tempReading } from './testing.ts';

const correctionTo = (value: number) =>
  ({ of: 'reading', data: tempReading(value), reason: 'misread' }) as const;

function only(log: readonly LogEvent[]) {
  const { events } = settle(log);
  expect(events).toHaveLength(1);
  const [event] = events;
  if (event?.type !== 'reading') throw new Error('not a reading');
  return event;
}

it('L5 a correction replaces the data and keeps what was said before', () => {
  const b = new Tablet('t1', 'B');
  const first = b.temp(61);
  const mend = b.wait(3).write('corrected', correctionTo(62.5), { corrects: first.id });
  const settled = only([mend, first]);
  expect(settled.data.value).toBe(62.5);
  expect(settled.headId).toBe(mend.id);
  expect(settled.past).toEqual([
    { eventId: first.id, data: first.data, readAtMs: first.readAtMs, who: 'B', reason: 'misread' },
  ]);
});

it('L5 a correction may move the reading to when it was true', () => {
  const b = new Tablet('t1', 'B');
  const first = b.temp(61);
  const readAtMs = first.readAtMs - 600_000;
  const mend = b.write('corrected', { ...correctionTo(61), readAtMs }, { corrects: first.id });
  expect(only([first, mend]).readAtMs).toBe(readAtMs);
});

it('L5 a correction of a correction follows the chain, whatever the clocks say', () => {
  const b = new Tablet('t1', 'B');
  const h = new Tablet('t2', 'H').wait(-300); // its clock is five hours slow
  const first = b.temp(61);
  const second = b.wait(1).write('corrected', correctionTo(62), { corrects: first.id });
  const third = h.write('corrected', correctionTo(63), { corrects: second.id });
  const settled = only([third, second, first]);
  expect(settled.data.value).toBe(63);
  expect(settled.past.map((p) => p.data.value)).toEqual([61, 62]);
});

it.each([
  [
    'target-missing',
    (b: Tablet) => [b.write('withdrawn', { reason: '' }, { corrects: 'f'.repeat(32) })],
  ],
  [
    'wrong-kind',
    (b: Tablet) => {
      const note = b.write('note', { text: 'lid on' });
      return [note, b.write('corrected', correctionTo(60), { corrects: note.id })];
    },
  ],
  [
    'wrong-kind',
    (b: Tablet) => {
      const first = b.temp(60);
      return [
        first,
        b.write('withdrawn', { reason: '' }, { corrects: first.id, stream: 'brew:other' }),
      ];
    },
  ],
  [
    'circle',
    (b: Tablet) => {
      const one = b.write('withdrawn', { reason: '' });
      const two = b.write('withdrawn', { reason: '' }, { corrects: one.id });
      return [{ ...one, corrects: two.id }, two];
    },
  ],
] as const)('L5 a correction that cannot be applied is listed: %s', (why, make) => {
  const log = make(new Tablet('t1', 'B'));
  const { unapplied } = settle(log);
  expect(unapplied.length).toBeGreaterThan(0);
  expect(new Set(unapplied.map((u) => u.why))).toEqual(new Set([why]));
});

it('L5 a chain of thousands of withdrawals neither hangs nor overflows', () => {
  const b = new Tablet('t1', 'B');
  const log: LogEvent[] = [b.temp(60)];
  for (let n = 0; n < 5000; n += 1) {
    log.push(b.write('withdrawn', { reason: '' }, { corrects: log.at(-1)?.id ?? '' }));
  }
  const { events, unapplied } = settle(log);
  expect(events).toHaveLength(1);
  expect(unapplied.every((u) => u.why === 'too-long')).toBe(true);
  expect(unapplied).toHaveLength(4900);
});

it('L6 a withdrawal of the original wins over a later correction of it', () => {
  const b = new Tablet('t1', 'B');
  const first = b.temp(61);
  const gone = b.wait(1).write('withdrawn', { reason: 'wrong vessel' }, { corrects: first.id });
  const mend = b.wait(1).write('corrected', correctionTo(62), { corrects: first.id });
  const settled = only([first, gone, mend]);
  expect(settled.standing).toBe('withdrawn');
  expect(settled.reason).toBe('wrong vessel');
  expect(settled.headId).toBe(gone.id);
});

it('L6 withdrawing a correction brings back what was said before it', () => {
  const b = new Tablet('t1', 'B');
  const first = b.temp(61);
  const mend = b.write('corrected', correctionTo(65), { corrects: first.id });
  const undo = b.write('withdrawn', { reason: 'was right' }, { corrects: mend.id });
  const settled = only([first, mend, undo]);
  expect(settled.standing).toBe('holds');
  expect(settled.data.value).toBe(61);
});

it('L7 of two corrections of one event the later in order holds, the other stays in the past', () => {
  const b = new Tablet('t1', 'B');
  const h = new Tablet('t2', 'H').wait(2);
  const first = b.temp(61);
  const mine = b.wait(1).write('corrected', correctionTo(62), { corrects: first.id });
  const theirs = h.write('corrected', correctionTo(63), { corrects: first.id });
  const settled = only([theirs, mine, first]);
  expect(settled.data.value).toBe(63);
  expect(settled.past.map((p) => p.eventId).sort()).toEqual([first.id, mine.id].sort());
});

it('L8 a withdrawal withdrawn is as if it had not been', () => {
  const b = new Tablet('t1', 'B');
  const first = b.temp(61);
  const undo = b.write('withdrawn', { reason: 'slip' }, { corrects: first.id });
  const redo = b.write('withdrawn', { reason: 'was right' }, { corrects: undo.id });
  expect(only([first, undo, redo]).standing).toBe('holds');
});
