import { foldBrew, type LogEvent, mendMoveId, readingGate } from '@ladlework/log';
import { DAY_START_MS, DOCUMENT, ONE_PULL, Tablet } from '@ladlework/log/testing';
import { describe, expect, test } from 'vitest';
import { entriesOf, mendsAhead, wortEntriesOf } from './day-entries.ts';

/** A brew that was planned and begun at 06:00. */
function begun(): { tablet: Tablet; log: LogEvent[] } {
  const tablet = new Tablet('t1', 'B');
  const log: LogEvent[] = [
    tablet.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL }),
    tablet.write('brew-started', { startAtMs: DAY_START_MS, clock: { utcOffsetMin: 0 } }),
  ];
  return { tablet, log };
}

const entries = (log: readonly LogEvent[]) => entriesOf(foldBrew(log, 'b1'));

describe('the entries of a brew', () => {
  test('are none before it began', () => {
    const tablet = new Tablet('t1', 'B');
    const planned = tablet.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL });
    expect(entries([planned])).toEqual([]);
  });

  test('are taps, portions and readings in minutes after its start', () => {
    const { tablet, log } = begun();
    log.push(tablet.wait(55).write('move-begun', { moveId: 'pull-1' }));
    log.push(tablet.wait(10).write('move-done', { moveId: 'pull-1' }));
    log.push(tablet.temp(60.4, { places: 3 }));
    log.push(tablet.wait(45).write('move-begun', { moveId: 'return-1' }));
    log.push(tablet.wait(6).write('ladles-returned', { moveId: 'return-1', portions: 8 }));
    log.push(tablet.wait(3).write('ladles-returned', { moveId: 'return-1', portions: 2 }));
    const reading = log.find((e) => e.type === 'reading');
    const got = entries(log);
    expect(got).toHaveLength(6);
    expect(got).toEqual(
      expect.arrayContaining([
        { kind: 'begun', moveId: 'pull-1', atMin: 55 },
        { kind: 'done', moveId: 'pull-1', atMin: 65 },
        { kind: 'begun', moveId: 'return-1', atMin: 110 },
        { kind: 'portions', moveId: 'return-1', atMin: 116, portions: 8 },
        { kind: 'portions', moveId: 'return-1', atMin: 119, portions: 2 },
        {
          kind: 'reading',
          id: reading?.id,
          reading: { vessel: 'tun', what: 'temp', value: 60.4, atMin: 65, sd: 0.3 },
        },
      ]),
    );
  });

  test('leave out what was withdrawn, and what says nothing about heat or mass', () => {
    const { tablet, log } = begun();
    const wrong = tablet.wait(30).temp(26.4);
    log.push(wrong, tablet.write('withdrawn', { reason: 'undone' }, { corrects: wrong.id }));
    log.push(tablet.write('reading', { ...wrong.data, what: 'iodine', value: 0 }));
    expect(entries(log)).toEqual([]);
  });

  test('a correction gives the value as corrected', () => {
    const { tablet, log } = begun();
    const wrong = tablet.wait(30).temp(26.4);
    log.push(
      wrong,
      tablet.write(
        'corrected',
        { of: 'reading', data: { ...wrong.data, value: 62.4 }, reason: 'digits swapped' },
        { corrects: wrong.id },
      ),
    );
    expect(entries(log)).toMatchObject([{ id: wrong.id, reading: { value: 62.4, atMin: 30 } }]);
  });

  test('a reading the brewer stands by is taken as it is', () => {
    const { tablet, log } = begun();
    const odd = tablet.wait(30).temp(75);
    log.push(odd);
    expect(entries(log)[0]).not.toHaveProperty('confirmed');
    log.push(tablet.write('gate-confirmed', { code: readingGate(odd.id) }));
    expect(entries(log)[0]).toHaveProperty('confirmed', true);
  });

  test('so is one read again with the same answer, but not one that differs', () => {
    const { tablet, log } = begun();
    log.push(tablet.wait(30).temp(75), tablet.wait(4).temp(75.3), tablet.wait(4).temp(71));
    const confirmed = entries(log).map((e) => e.kind === 'reading' && e.confirmed === true);
    expect(confirmed).toEqual([false, true, false]);
  });

  test('a repair counts once it was carried out, over the minutes that took', () => {
    const { tablet, log } = begun();
    const mend = tablet.wait(125).write('miss-mended', {
      code: 'boiling-liquor',
      text: 'Pour in 12 L of boiling liquor',
      amountL: 12,
      minutes: 20,
      moveId: 'return-1',
    });
    log.push(mend);
    expect(entries(log)).toEqual([]);
    const chosen = foldBrew(log, 'b1');
    expect(mendsAhead(chosen, DAY_START_MS + 130 * 60_000)).toEqual([
      { kind: 'mend', code: 'boiling-liquor', atMin: 145, minutes: 20, amountL: 12, targetC: 71 },
    ]);
    log.push(tablet.wait(18).write('move-done', { moveId: mendMoveId(mend.id) }));
    expect(entries(log)).toContainEqual({
      kind: 'mend',
      code: 'boiling-liquor',
      atMin: 143,
      minutes: 18,
      amountL: 12,
      targetC: 71,
    });
    expect(mendsAhead(foldBrew(log, 'b1'), DAY_START_MS + 150 * 60_000)).toEqual([]);
  });
});

test('what happened after the mash comes in the order of time, corrected and without what was withdrawn', () => {
  const b = new Tablet('t1', 'B');
  const log: LogEvent[] = [
    b.write('brew-started', { startAtMs: DAY_START_MS, clock: { utcOffsetMin: 0 } }),
    b.wait(200).write('move-begun', { moveId: 'run-off' }),
  ];
  const read = b.wait(30).write('wort-read', {
    point: 'run-off',
    litres: 120,
    plato: 14,
    text: '120 L',
  });
  const slip = b.wait(1).write('wort-read', { point: 'run-off', litres: 12, text: '12 L' });
  log.push(
    read,
    slip,
    b.write('withdrawn', { reason: 'slip' }, { corrects: slip.id }),
    b.write(
      'corrected',
      { of: 'wort-read', data: { ...read.data, plato: 14.4 }, reason: 'misread' },
      { corrects: read.id },
    ),
    b.wait(60).write('kettle-chosen', {
      way: 'boil-longer',
      minutes: 84,
      liquorL: 0,
      extractKg: 0,
      text: 'Boil 84 min',
    }),
  );
  expect(wortEntriesOf(foldBrew(log, 'b1'))).toEqual([
    { kind: 'begun', move: 'run-off', atMin: 200 },
    { kind: 'read', read: { point: 'run-off', litres: 120, plato: 14.4 }, atMin: 230, id: read.id },
    { kind: 'chosen', way: 'boil-longer', minutes: 84, liquorL: 0, extractKg: 0, atMin: 291 },
  ]);
});

test('wort that boils in two kettles boils from the first on, and has boiled when both have', () => {
  const b = new Tablet('t1', 'B');
  const log: LogEvent[] = [
    b.write('brew-started', { startAtMs: DAY_START_MS, clock: { utcOffsetMin: 0 } }),
    b.wait(300).write('move-begun', { moveId: 'boil-wort-pot' }),
    b.wait(10).write('move-begun', { moveId: 'boil-wort-kettle' }),
    b.wait(70).write('move-done', { moveId: 'boil-wort-pot' }),
  ];
  const begun = { kind: 'begun', move: 'boil-wort', atMin: 300 };
  expect(wortEntriesOf(foldBrew(log, 'b1'))).toEqual([begun]);
  log.push(b.wait(10).write('move-done', { moveId: 'boil-wort-kettle' }));
  expect(wortEntriesOf(foldBrew(log, 'b1'))).toEqual([
    begun,
    { kind: 'done', move: 'boil-wort', atMin: 390 },
  ]);
});
