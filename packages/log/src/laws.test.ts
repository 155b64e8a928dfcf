import fc from 'fast-check';
import { expect, it } from 'vitest';
import { foldBrew } from './brew.ts';
import type { LogEvent } from './event.ts';
import { mergeEvents } from './order.ts';
import { recordOf } from './record.ts';
import { settle } from './settle.ts';
import { DOCUMENT, ONE_PULL, Tablet, tempReading } from './testing.ts';

const correction = (value: number) =>
  ({ of: 'reading', data: tempReading(value), reason: 'misread' }) as const;

/** Two tablets, offline, reading, correcting and undoing whatever they know of. */
const logArbitrary: fc.Arbitrary<LogEvent[]> = fc
  .array(
    fc.record({
      tablet: fc.integer({ min: 0, max: 2 }),
      minutes: fc.integer({ min: -90, max: 20 }),
      act: fc.constantFrom('read', 'correct', 'withdraw', 'begin', 'done', 'ladle', 'note'),
      target: fc.nat(),
      value: fc.integer({ min: 50, max: 80 }),
      places: fc.constantFrom(1 as const, 3 as const),
    }),
    { maxLength: 40 },
  )
  .map((acts) => {
    const tablets = [new Tablet('t1', 'B'), new Tablet('t2', 'H'), new Tablet('t3', 'B')];
    const log: LogEvent[] = [];
    for (const a of acts) {
      const t = tablets[a.tablet]?.wait(a.minutes);
      const target = log[a.target % Math.max(1, log.length)];
      if (t === undefined) continue;
      const moveId = a.value % 2 === 0 ? 'pull-1' : 'return-1';
      if (a.act === 'read') log.push(t.temp(a.value, { places: a.places }));
      else if (a.act === 'begin') log.push(t.write('move-begun', { moveId }));
      else if (a.act === 'done') log.push(t.write('move-done', { moveId }));
      else if (a.act === 'ladle') log.push(t.write('ladles-returned', { moveId, portions: 1 }));
      else if (a.act === 'note') log.push(t.write('note', { text: `n${a.value}` }));
      else if (target !== undefined && a.act === 'withdraw')
        log.push(t.write('withdrawn', { reason: 'slip' }, { corrects: target.id }));
      else if (target !== undefined)
        log.push(t.write('corrected', correction(a.value), { corrects: target.id }));
    }
    return log;
  });

it('L3 merging is commutative, associative and idempotent', () => {
  fc.assert(
    fc.property(logArbitrary, fc.nat(), fc.nat(), (log, cut1, cut2) => {
      const [i, j] = [cut1 % (log.length + 1), cut2 % (log.length + 1)];
      const [a, b, c] = [log.slice(0, i), log.slice(j), log.slice(Math.min(i, j))];
      expect(mergeEvents(a, b)).toEqual(mergeEvents(b, a));
      expect(mergeEvents(mergeEvents(a, b), c)).toEqual(mergeEvents(a, mergeEvents(b, c)));
      expect(mergeEvents(a, a)).toEqual(mergeEvents(a));
    }),
  );
});

it('L9 every original is there after settling, whatever was done to it', () => {
  fc.assert(
    fc.property(logArbitrary, (log) => {
      const originals = log.filter((e) => e.type !== 'corrected' && e.type !== 'withdrawn');
      const { events } = settle(log);
      expect(new Set(events.map((e) => e.event.id))).toEqual(new Set(originals.map((e) => e.id)));
    }),
  );
});

it('L4 any order, any repeats, any route give the same state and the same record', () => {
  fc.assert(
    fc.property(
      logArbitrary.chain((log) =>
        fc.tuple(
          fc.constant(log),
          fc.shuffledSubarray(log, { minLength: log.length }),
          fc.shuffledSubarray(log),
        ),
      ),
      ([log, shuffled, again]) => {
        const b = new Tablet('t9', 'B');
        const day = [
          b.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL }),
          b.write('brew-started', { startAtMs: b.nowMs, clock: { utcOffsetMin: 60 } }),
        ];
        const one = foldBrew([...day, ...log], 'b1');
        const two = foldBrew([...shuffled, ...again, ...day.toReversed()], 'b1');
        expect(two).toEqual(one);
        expect(recordOf(two)).toEqual(recordOf(one));
      },
    ),
  );
});

it('L4 tablets that were offline for a day merge to one record, whichever comes back first and however its batches are cut', () => {
  const batches = (log: readonly LogEvent[], device: string, size: number): LogEvent[][] => {
    const own = log.filter((e) => e.device === device);
    return Array.from({ length: Math.ceil(own.length / size) }, (_, i) =>
      own.slice(i * size, (i + 1) * size),
    );
  };
  fc.assert(
    fc.property(
      logArbitrary,
      fc.integer({ min: 1, max: 7 }),
      fc.array(fc.constantFrom('t1', 't2', 't3'), { maxLength: 60 }),
      fc.integer({ min: -600_000, max: 600_000 }),
      (made, size, turns, offMs) => {
        // One of them had a clock that was off; it says so, and its times are mended already.
        const log = made.map((e) =>
          e.device === 't2' ? ({ ...e, clock: { offsetMs: offMs, errorMs: 40 } } as LogEvent) : e,
        );
        const back = (order: readonly string[]) => {
          const left = new Map(order.map((d) => [d, batches(log, d, size)]));
          // As taken in by a page over the live stream: one batch after another.
          let page: LogEvent[] = [];
          for (const device of [...turns, ...order.flatMap((d) => Array(41).fill(d))]) {
            // A batch whose answer was lost on the way is sent again.
            const batch = left.get(device)?.shift() ?? [];
            page = mergeEvents(page, batch, batch);
          }
          return page;
        };
        const [first, second] = [back(['t1', 't2', 't3']), back(['t3', 't2', 't1'])];
        expect(second).toEqual(first);
        expect(first).toHaveLength(log.length);
        const [one, two] = [foldBrew(first, 'b1'), foldBrew(second.toReversed(), 'b1')];
        expect(recordOf(two)).toEqual(recordOf(one));
        expect(two.conflicts).toEqual(one.conflicts);
      },
    ),
  );
});
