import { expect, it } from 'vitest';
import { foldBrew } from './brew.ts';
import { recordCsv } from './csv.ts';
import type { LogEvent } from './event.ts';
import { recordOf } from './record.ts';
import { DAY_START_MS, DOCUMENT, ONE_PULL, Tablet } from './testing.ts';

const MIN = 60_000;

function day(): LogEvent[] {
  const b = new Tablet('t1', 'B');
  return [
    b.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL }),
    b.write('brew-started', { startAtMs: b.nowMs, clock: { utcOffsetMin: 60 } }),
    b.wait(26).write('move-begun', { moveId: 'mash-in' }),
    b.wait(20).write('move-done', { moveId: 'mash-in' }),
    b.wait(4).temp(61.2, { moveId: 'mash-in', places: 3 }),
    b.wait(60).write('move-begun', { moveId: 'return-1' }),
    b.wait(6).write('ladles-returned', { moveId: 'return-1', portions: 9 }),
    b.wait(4).write('ladles-returned', { moveId: 'return-1', portions: 4 }),
    b.wait(1).temp(69.4, { moveId: 'return-1', places: 3 }),
    b.write('miss-mended', { code: 'boiling-liquor', text: 'Boiling liquor, 6 L', amountL: 6 }),
    b.wait(5).write('note', { text: '=SUM(A1), "spat"' }),
    b.wait(60).write('brew-ended', { reason: 'finished' }),
  ];
}

const rowsOf = (log: readonly LogEvent[]) => recordOf(foldBrew(log, 'b1'));
const row = (log: readonly LogEvent[], code: string) => rowsOf(log).find((r) => r.code === code);

it('L16 a late move shows planned, actual and minutes late', () => {
  const m1 = row(day(), 'M1');
  expect(m1).toMatchObject({ text: 'Mash in', quantity: 'clock', deviation: 6, outside: true });
  expect(m1?.planned?.likely).toBe(DAY_START_MS + 20 * MIN);
  expect(row(day(), 'M1t')).toMatchObject({ quantity: 'minutes', actual: 20, deviation: 5 });
});

it('L16 a tap seconds beside a start planned to the minute is not outside', () => {
  const sharp = ONE_PULL.moves.map((m) =>
    m.id === 'mash-in' ? { ...m, startMin: { low: 20, likely: 20, high: 20 } } : m,
  );
  const begunAt = (minutes: number) => {
    const b = new Tablet('t1', 'B');
    return row(
      [
        b.write('brew-planned', { document: DOCUMENT, planSummary: { ...ONE_PULL, moves: sharp } }),
        b.write('brew-started', { startAtMs: b.nowMs, clock: { utcOffsetMin: 60 } }),
        b.wait(minutes).write('move-begun', { moveId: 'mash-in' }),
      ],
      'M1',
    );
  };
  expect(begunAt(20.4)).toMatchObject({ outside: false });
  expect(begunAt(21.5)).toMatchObject({ outside: true });
});

it('L16 a landing is held against the rest it was meant for', () => {
  const landing = row(day(), 'P1');
  expect(landing).toMatchObject({ actual: 69.4, outside: true, vessel: 'tun' });
  expect(landing?.planned?.likely).toBe(71);
  expect(landing?.deviation).toBeCloseTo(-1.6, 9);
  expect(row(day(), 'P1n')).toMatchObject({ actual: 13, deviation: -2 });
});

it('L16 what was not done stands where it was planned', () => {
  const rows = rowsOf(day());
  expect(rows.filter((r) => r.standing === 'not-done').map((r) => r.moveId)).toEqual([
    'pull-1',
    'boil-1',
  ]);
  const times = rows.map((r) => r.atMs ?? Number.NaN);
  expect(times.every(Number.isFinite)).toBe(true);
  expect(times).toEqual(times.toSorted((a, b) => a - b));
});

it('L16 an entry made later than the reading says so', () => {
  const b = new Tablet('t1', 'B');
  const late = { ...b.temp(62), enteredAtMs: b.nowMs + 45 * MIN };
  expect(row([late], 'R1')).toMatchObject({ enteredLateMin: 45 });
});

it('L9 a corrected reading says what it was before', () => {
  const b = new Tablet('t1', 'B');
  const first = b.temp(61);
  const mend = b.write(
    'corrected',
    { of: 'reading', data: { ...first.data, value: 62, text: '62' }, reason: 'misread' },
    { corrects: first.id },
  );
  expect(row([first, mend], 'R1')).toMatchObject({ actual: 62, remark: 'was "61" (B); misread' });
});

it('L16 the table of the day reads in a spreadsheet and runs nothing in it', () => {
  const state = foldBrew(day(), 'b1');
  const lines = recordCsv(recordOf(state), state).split('\r\n');
  expect(lines[0]?.split(',')).toHaveLength(15);
  expect(lines.find((l) => l.startsWith('M1,'))).toBe(
    'M1,07:26,move,tun,Mash in,local time; deviation min,07:17,07:20,07:23,07:26,6,B,,holds,',
  );
  expect(lines.find((l) => l.startsWith('N1,'))).toContain(`"'=SUM(A1), ""spat"""`);
  expect(lines.at(-1)).toBe('');
});

it('a later reader sees by how much the clock of an entry was off, and whether it was known', () => {
  const entered = (clock: LogEvent['clock']) => {
    const b = new Tablet('t1', 'B');
    const reading = { ...b.temp(62), ...(clock && { clock }) };
    return row([reading as LogEvent], 'R1')?.remark;
  };
  expect(entered(undefined)).toBeUndefined();
  expect(entered({ offsetMs: 3000, errorMs: 20 })).toBeUndefined();
  expect(entered({ offsetMs: 4 * MIN, errorMs: 20 })).toBe('its clock was 4 min slow, mended');
  expect(entered({ offsetMs: -90 * MIN })).toBe(
    'its clock was 90 min fast, mended, by what it last knew',
  );
  expect(entered({ offsetMs: 0, doubtMs: 70 * MIN })).toBe(
    'time doubtful: its clock moved 70 min unseen',
  );
});

it('a reading of wort stands with one row for each figure, and the way taken beside it', () => {
  const b = new Tablet('t1', 'B');
  const log = [
    b.write('brew-started', { startAtMs: b.nowMs, clock: { utcOffsetMin: 0 } }),
    b.wait(300).write('wort-read', {
      point: 'kettle-full',
      litres: 512,
      tempC: 72,
      plato: 11.2,
      text: '512 L, 11.2',
    }),
    b.wait(2).write('kettle-chosen', {
      way: 'boil-longer',
      minutes: 84,
      liquorL: 0,
      extractKg: 0,
      text: 'Boil 84 min',
    }),
  ];
  const rows = recordOf(foldBrew(log, 'b1')).filter((r) => /^[WK]/.test(r.code));
  expect(rows.map((r) => [r.code, r.quantity, r.actual])).toEqual([
    ['W1v', 'volume', 512],
    ['W1t', 'temp', 72],
    ['W1g', 'gravity', 11.2],
    ['K1', undefined, undefined],
  ]);
  expect(rows[3]?.text).toBe('Boil 84 min');
});

it('L16 the strength of a full kettle is held against the plan, its hot litres are not', () => {
  const b = new Tablet('t1', 'B');
  const planned = { low: 12.8, likely: 13.1, high: 13.4 };
  const summary = { ...ONE_PULL, wort: [{ point: 'kettle-full' as const, plato: planned }] };
  const log = [
    b.write('brew-planned', { document: DOCUMENT, planSummary: summary }),
    b.write('brew-started', { startAtMs: b.nowMs, clock: { utcOffsetMin: 60 } }),
    b.wait(300).write('wort-read', {
      point: 'kettle-full',
      litres: 480,
      tempC: 75,
      plato: 11.8,
      text: '480 L, 11.8 °P',
    }),
  ];
  const strength = row(log, 'W1g');
  expect(strength).toMatchObject({ planned, actual: 11.8, outside: true });
  expect(strength?.deviation).toBeCloseTo(-1.3);
  expect(row(log, 'W1v')?.planned).toBeUndefined();
});
