import type { Kit } from '@ladlework/brewhouse';
import {
  type BrewState,
  foldBrew,
  type LogEvent,
  type PlanSummary,
  type SheetBox,
  sheetBoxes,
} from '@ladlework/log';
import { unitPair } from '@ladlework/quantity';
import { describe, expect, test } from 'vitest';
import { eventsOf } from './back-entry.ts';
import { boxSaid, fieldsOf, isFilled, likelyClock, type PaperBrew } from './box-words.ts';

const sharp = (x: number) => ({ low: x - 1, likely: x, high: x + 1 });
const move = (id: string, kind: string, vessel: string, start: number, end: number) => ({
  id,
  kind,
  vessel,
  text: id,
  hands: ['B'],
  startMin: sharp(start),
  endMin: sharp(end),
  fromC: sharp(60),
  toC: sharp(62),
  volumeL: 320,
});
/** An invented day that runs past midnight. */
const DAY: PlanSummary = {
  moves: [
    move('mash-in', 'mash-in', 'tun', 60, 75),
    move('rest-1', 'rest', 'tun', 75, 95),
    move('pull-1', 'pull', 'kettle', 95, 101),
    move('boil-up-1', 'heat', 'kettle', 101, 140),
    move('return-1', 'return', 'tun', 140, 146),
    move('rest-2', 'rest', 'tun', 146, 176),
  ],
  returns: [
    {
      pull: 1,
      moveIds: { pull: ['pull-1'], return: ['return-1'] },
      restC: 62,
      targetC: 72,
      takeL: 80,
      portions: 8,
      tunBeforeC: sharp(60),
      arrivalC: sharp(92),
      landingC: sharp(72),
    },
  ],
  strike: { litres: 200, tempC: sharp(69) },
  mashEndMin: sharp(176),
  addedMin: sharp(51),
};
const KIT = {
  vessels: [
    { id: 'tun', name: 'Mash tun', brimL: 420 },
    { id: 'kettle', name: 'Kettle', brimL: 500 },
  ],
  burners: [],
  routes: [],
  hands: [],
} as unknown as Kit;
const START_MIN = 22 * 60 + 30;
/** 22:30 on a November evening, UTC. */
const STARTED_MS = Date.UTC(2026, 10, 25, 22, 30);
const NOW_MS = Date.UTC(2026, 10, 26, 9, 0);
const boxes = sheetBoxes(DAY);
const box = (first: string) => boxes.find((b) => b.code.startsWith(first)) as SheetBox;

let counter = 0;
const event = (type: LogEvent['type'], data: object, readAtMs: number): LogEvent => {
  counter += 1;
  return {
    id: String(counter).padStart(32, '0'),
    stream: 'brew:b1',
    readAtMs,
    enteredAtMs: NOW_MS,
    who: 'B',
    device: 'd1',
    counter,
    type,
    data,
  } as LogEvent;
};
const PLANNED = event(
  'brew-planned',
  { document: { kit: KIT, beer: { id: 'x', name: 'Pale' } }, planSummary: DAY },
  STARTED_MS - 1000,
);
const STARTED = event(
  'brew-started',
  { startAtMs: STARTED_MS, clock: { utcOffsetMin: 0 } },
  STARTED_MS,
);

const paperOf = (log: readonly LogEvent[], pair = unitPair('metric')): PaperBrew => ({
  brew: foldBrew(log, 'b1') as BrewState,
  kit: KIT,
  startMin: START_MIN,
  pair,
});
const PAPER = paperOf([PLANNED, STARTED]);
const dayOf = (date: string, clockMin: number) => {
  const ms = Date.parse(`${date}T00:00:00Z`) + clockMin * 60_000;
  return Number.isNaN(ms) ? undefined : { ms, utcOffsetMin: 0 };
};
const typedIn = (b: SheetBox, ...typed: string[]) => eventsOf(b, typed, PAPER, NOW_MS, dayOf);
const at = (clock: string, day = 25) => Date.parse(`2026-11-${day}T${clock}:00Z`);

describe('a box of paper', () => {
  test('names vessel, planned band and unit', () => {
    expect(boxSaid(box('P1'), PAPER)).toBe(
      'Mash tun temperature, Return into Mash tun, to 62 °C, planned 72.0 ± 1.0 °C',
    );
    expect(fieldsOf(box('P1'), PAPER).map((f) => f.unit)).toEqual(['°C', '']);
    expect(boxSaid(box('M3'), PAPER)).toBe('Pull 320 L into Kettle: begun, planned 00:04 to 00:06');
  });

  test('dates its clock by the plan, over midnight too', () => {
    const before = typedIn(box('M1'), '23:29');
    expect(before.ok && before.value[0]?.readAtMs).toBe(at('23:29'));
    const after = typedIn(box('M3'), '00:07');
    expect(after.ok && after.value.at(-1)).toEqual({
      type: 'move-begun',
      data: { moveId: 'pull-1' },
      readAtMs: at('00:07', 26),
    });
  });

  test('writes a landing as the screen does, in its unit and as typed', () => {
    const us = paperOf([PLANNED, STARTED], unitPair('us'));
    const landed = eventsOf(box('P1'), ['160.5', '00:57'], us, NOW_MS, dayOf);
    if (!landed.ok) throw new Error(landed.error);
    expect(landed.value).toHaveLength(1);
    expect(landed.value[0]).toMatchObject({
      type: 'reading',
      data: { vessel: 'tun', what: 'temp', unit: '°F', text: '160.5', moveId: 'return-1' },
      readAtMs: at('00:57', 26),
    });
    const data = landed.value[0]?.data as { value: number };
    expect(data.value).toBeCloseTo((160.5 - 32) / 1.8, 9);
  });

  test('begins by itself what follows a move that is done', () => {
    const done = typedIn(box('D3'), '00:12');
    expect(done.ok && done.value.map((e) => [e.type, e.data])).toEqual([
      ['move-done', { moveId: 'pull-1' }],
      ['move-begun', { moveId: 'boil-up-1' }],
    ]);
  });

  test('ends the rest on which a pull begins', () => {
    const resting = paperOf([
      PLANNED,
      STARTED,
      event('move-begun', { moveId: 'rest-1' }, at('23:45')),
    ]);
    const begun = eventsOf(box('M3'), ['00:06'], resting, NOW_MS, dayOf);
    expect(begun.ok && begun.value.map((e) => [e.type, e.data])).toEqual([
      ['move-done', { moveId: 'rest-1' }],
      ['move-begun', { moveId: 'pull-1' }],
    ]);
  });

  test('takes litres of wort with their temperature only', () => {
    expect(typedIn(box('W2'), '950', '', '11', '04:00')).toEqual({
      ok: false,
      error: expect.stringMatching(/^at: the temperature/),
    });
    const full = typedIn(box('W2'), '9.5 hL', '98', '1.044', '04:00');
    if (!full.ok) throw new Error(full.error);
    expect(full.value[0]).toMatchObject({ type: 'wort-read', readAtMs: at('04:00', 26) });
    const data = full.value[0]?.data as { litres: number; plato: number };
    expect(data.litres).toBeCloseTo(950, 6);
    // 1.044 is 10.95 °P: tables of the European Brewery Convention, from memory.
    expect(data.plato).toBeCloseTo(10.95, 1);
  });

  test.each([
    ['P1', ['130', '00:57'], /^Mash tun temperature: .*above the boiling point/],
    ['P1', ['72', '25:10'], /clock on paper/],
    ['P1', ['72', '9:30'], /still to come/],
    ['L3', ['0', '00:12'], /^portions: "0" cannot be; give a number, 0.01 to 1000/],
    ['J6', ['perhaps', '01:20'], /^blue\?: "perhaps" is neither/],
    ['N1', ['', '01:20'], /nothing was typed/],
  ])('%s refuses %j by field, value and range', (code, typed, said) => {
    const result = typedIn(box(code), ...typed);
    if (result.ok && code === 'P1' && typed[1] === '9:30')
      throw new Error(`taken at ${new Date(result.value[0]?.readAtMs ?? 0).toISOString()}`);
    expect(result).toEqual({ ok: false, error: expect.stringMatching(said) });
  });

  test('wants the beginning of a day first that nobody tapped', () => {
    const unbegun = paperOf([PLANNED]);
    const early = eventsOf(box('P1'), ['72', '00:57'], unbegun, NOW_MS, dayOf);
    expect(early).toEqual({ ok: false, error: expect.stringMatching(/day has not begun/) });
    const start = eventsOf(box('A1'), ['2026-11-25', '22:35'], unbegun, NOW_MS, dayOf);
    expect(start).toEqual({
      ok: true,
      value: [
        {
          type: 'brew-started',
          data: { startAtMs: at('22:35'), clock: { utcOffsetMin: 0 } },
          readAtMs: at('22:35'),
        },
      ],
    });
    expect(likelyClock(box('M1'), unbegun)).toBe('23:30');
  });

  test('expects an end as long after its real beginning as planned', () => {
    const late = paperOf([
      PLANNED,
      STARTED,
      event('move-begun', { moveId: 'pull-1' }, at('00:25', 26)),
    ]);
    expect(likelyClock(box('D3'), late)).toBe('00:31');
    expect(likelyClock(box('M3'), late)).toBe('00:25');
    expect(likelyClock(box('D3'), PAPER)).toBe('00:11');
  });

  test('is filled when the log has it', () => {
    expect(isFilled(box('P1'), PAPER.brew)).toBe(false);
    const landed = typedIn(box('P1'), '71.4', '00:57');
    if (!landed.ok) throw new Error(landed.error);
    const log = [PLANNED, STARTED, ...landed.value.map((e) => event(e.type, e.data, e.readAtMs))];
    expect(isFilled(box('P1'), foldBrew(log, 'b1'))).toBe(true);
  });
});
