import { expect, it } from 'vitest';
import { foldBrew, foldBrews } from './brew.ts';
import type { LogEvent } from './event.ts';
import { callGate, choiceGate } from './names.ts';
import { DAY_START_MS, DOCUMENT, ONE_PULL, Tablet } from './testing.ts';

const planned = (t: Tablet) =>
  t.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL });
const started = (t: Tablet) =>
  t.write('brew-started', { startAtMs: t.nowMs, clock: { utcOffsetMin: 60 } });

it('an empty log gives a brew of which nothing is known', () => {
  const state = foldBrew([], 'b1');
  expect(state).toMatchObject({ brew: 'b1', moves: [], readings: [], underway: [] });
  expect(state.startedAtMs).toBeUndefined();
  expect(state.next).toBeUndefined();
});

it('L4 other streams do not touch a brew', () => {
  const b = new Tablet('t1', 'B');
  const log = [b.temp(62), b.write('note', { text: 'else' }, { stream: 'brew:b2' })];
  expect(foldBrew(log, 'b1').notes).toEqual([]);
  expect(foldBrew(log, 'b2').readings).toEqual([]);
});

it('L9 a withdrawn reading stays visible with its reason', () => {
  const b = new Tablet('t1', 'B');
  const wrong = b.temp(96);
  const undo = b.write('withdrawn', { reason: 'read the pot' }, { corrects: wrong.id });
  const [reading] = foldBrew([wrong, undo], 'b1').readings;
  expect(reading).toMatchObject({ value: 96, standing: 'withdrawn', reason: 'read the pot' });
});

it('L10 moves follow the taps: next, current, underway, done', () => {
  const b = new Tablet('t1', 'B');
  const log: LogEvent[] = [planned(b), started(b)];
  expect(foldBrew(log, 'b1').next).toBe('mash-in');
  log.push(b.wait(20).write('move-begun', { moveId: 'mash-in' }));
  expect(foldBrew(log, 'b1')).toMatchObject({ current: 'mash-in', next: 'pull-1' });
  log.push(b.wait(15).write('move-done', { moveId: 'mash-in' }));
  log.push(b.wait(20).write('move-begun', { moveId: 'pull-1' }));
  log.push(b.wait(1).write('move-begun', { moveId: 'boil-1' }));
  const state = foldBrew(log, 'b1');
  expect(state.underway).toEqual(['pull-1', 'boil-1']);
  expect(state.current).toBe('boil-1');
  expect(state.moves[0]).toMatchObject({
    begunAtMs: DAY_START_MS + 20 * 60_000,
    doneAtMs: DAY_START_MS + 35 * 60_000,
  });
});

it('L10 undoing the last tap takes the move back', () => {
  const b = new Tablet('t1', 'B');
  const done = b.write('move-done', { moveId: 'mash-in' });
  const undo = b.write('withdrawn', { reason: 'too early' }, { corrects: done.id });
  const state = foldBrew([planned(b), done, undo], 'b1');
  expect(state.next).toBe('mash-in');
  expect(state.moves[0]?.doneAtMs).toBeUndefined();
});

it('L11 portions add up over hands and can be undone one by one', () => {
  const b = new Tablet('t1', 'B');
  const h = new Tablet('t2', 'H');
  const log: LogEvent[] = [planned(b)];
  for (let n = 0; n < 5; n += 1) {
    log.push(b.wait(1).write('ladles-returned', { moveId: 'return-1', portions: 1 }));
  }
  log.push(h.wait(2).write('ladles-returned', { moveId: 'return-1', portions: 3 }));
  const last = log.at(-1)?.id ?? '';
  expect(foldBrew(log, 'b1').moves[3]?.ladles).toBe(8);
  log.push(h.write('withdrawn', { reason: 'counted twice' }, { corrects: last }));
  expect(foldBrew(log, 'b1').moves[3]?.ladles).toBe(5);
});

it('L12 two people, one box: three places are believed, both stay visible', () => {
  const b = new Tablet('t1', 'B');
  const h = new Tablet('t2', 'H').wait(1);
  const stirred = b.temp(61.4, { places: 3 });
  const quick = h.temp(63);
  const state = foldBrew([quick, stirred], 'b1');
  expect(state.conflicts).toEqual([
    { what: 'reading', vessel: 'tun', reading: 'temp', chosen: stirred.id, others: [quick.id] },
  ]);
  expect(state.readings.map((r) => r.standing)).toEqual(['holds', 'passed-over']);
});

it('L12 whoever is asked may say which value counts; the last word stands, and can be taken back', () => {
  const b = new Tablet('t1', 'B');
  const h = new Tablet('t2', 'H').wait(1);
  const stirred = b.temp(61.4, { places: 3 });
  const quick = h.temp(63);
  const forQuick = b.wait(3).write('gate-confirmed', { code: choiceGate(quick.id) });
  const forStirred = h.wait(4).write('gate-confirmed', { code: choiceGate(stirred.id) });
  const chosen = (...more: LogEvent[]) =>
    foldBrew([...more, quick, stirred], 'b1').conflicts.map((c) => [
      c.chosen,
      c.others,
      c.what === 'reading' ? c.chosenBy : '',
    ]);
  expect(chosen(forQuick)).toEqual([[quick.id, [stirred.id], 'B']]);
  expect(chosen(forStirred, forQuick)).toEqual([[stirred.id, [quick.id], 'H']]);
  const back = h.write('withdrawn', { reason: 'undone' }, { corrects: forStirred.id });
  expect(chosen(back, forStirred, forQuick)).toEqual([[quick.id, [stirred.id], 'B']]);
  const withdrawn = h.write('withdrawn', { reason: 'undone' }, { corrects: quick.id });
  expect(chosen(withdrawn, forQuick)).toEqual([]);
});

it('L22 a call for the brewer stands until the first answer, and can be taken back', () => {
  const h = new Tablet('t2', 'H');
  const b = new Tablet('t1', 'B').wait(2);
  const call = h.write('brewer-called', { moveId: 'boil-1' });
  const coming = b.write('gate-confirmed', { code: callGate(call.id) });
  const late = h.wait(5).write('gate-confirmed', { code: callGate(call.id) });
  const calls = (...log: LogEvent[]) => foldBrew(log, 'b1').calls;
  expect(calls(call)).toMatchObject([{ eventId: call.id, who: 'H', moveId: 'boil-1' }]);
  expect(calls(call)[0]?.answered).toBeUndefined();
  expect(calls(late, coming, call)[0]?.answered?.who).toBe('B');
  expect(calls(call, h.write('withdrawn', { reason: 'undone' }, { corrects: call.id }))).toEqual(
    [],
  );
});

it('L12 one person following a mash, and two people who agree, do not clash', () => {
  const b = new Tablet('t1', 'B');
  const h = new Tablet('t2', 'H');
  const log = [b.temp(62), h.wait(1).temp(62), b.wait(1.5).temp(61.8), b.wait(60).temp(60)];
  expect(foldBrew(log, 'b1').conflicts).toEqual([]);
});

it('L12 taps of two tablets minutes apart are told, the earlier counts', () => {
  const b = new Tablet('t1', 'B');
  const h = new Tablet('t2', 'H').wait(9);
  const first = b.write('move-done', { moveId: 'pull-1' });
  const second = h.write('move-done', { moveId: 'pull-1' });
  const state = foldBrew([second, first], 'b1');
  expect(state.moves[0]?.doneAtMs).toBe(first.readAtMs);
  expect(state.conflicts).toEqual([
    { what: 'move-done', moveId: 'pull-1', chosen: first.id, others: [second.id] },
  ]);
});

it('L13 the last plan holds, the first start counts', () => {
  const b = new Tablet('t1', 'B');
  const h = new Tablet('t2', 'H').wait(4);
  const shorter = { ...ONE_PULL, moves: ONE_PULL.moves.slice(0, 2), returns: [] };
  const log = [
    planned(b),
    started(b),
    started(h),
    b.wait(30).write('plan-changed', {
      document: DOCUMENT,
      planSummary: shorter,
      reason: 'pot too small',
    }),
    b.wait(300).write('brew-ended', { reason: 'finished' }),
  ];
  const state = foldBrew(log, 'b1');
  expect(state.startedAtMs).toBe(DAY_START_MS);
  expect(state.planSummary?.moves).toHaveLength(2);
  expect(state.plans.map((p) => p.reason)).toEqual([undefined, 'pot too small']);
  expect(state.ended?.reason).toBe('finished');
});

it('newest brew first', () => {
  const one = new Tablet('t1', 'B', 'brew:one');
  const two = new Tablet('t1', 'B', 'brew:two').wait(1440);
  const log = [started(one), started(two), new Tablet('t3', 'B', 'kit:k').temp(1)];
  expect(foldBrews(log).map((s) => s.brew)).toEqual(['two', 'one']);
});
