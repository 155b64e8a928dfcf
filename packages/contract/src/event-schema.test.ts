import { ONE_PULL, Tablet } from '@ladlework/log/testing';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { parseEvent } from './event-schema.ts';
import { parsePlanDocument } from './parse.ts';
import { exampleDocument, exampleProbe } from './testing.ts';

const tablet = () => new Tablet('t1', 'B');

function example() {
  const result = parsePlanDocument(exampleDocument());
  if (!result.ok) throw new Error('the example is wrong');
  return result.document;
}

function refusal(json: unknown) {
  const result = parseEvent(json);
  return result.ok ? undefined : result.errors[0];
}

it('every type of event passes unchanged', () => {
  const b = tablet();
  const document = example();
  const first = b.temp(62, { places: 3, sdK: 0.2, moveId: 'mash-in' });
  const all = [
    new Tablet('t1', 'B', `kit:${document.kit.id}`).write('kit-saved', { kit: document.kit }),
    new Tablet('t1', 'B', 'kit:k').write('kit-retired', {}),
    new Tablet('t1', 'B', `beer:${document.beer.id}`).write('beer-saved', {
      beer: document.beer,
      mash: document.mash,
      day: document.day,
      kitId: document.kit.id,
    }),
    new Tablet('t1', 'B', 'beer:x').write('beer-retired', {}),
    new Tablet('t1', 'B', 'probe:p').write('probe-saved', { probe: exampleProbe() }),
    new Tablet('t1', 'B', 'probe:p').write('probe-retired', {}),
    b.write('brew-planned', { document, planSummary: ONE_PULL }),
    b.write('plan-changed', { document, planSummary: ONE_PULL, reason: 'late' }),
    b.write('brew-started', { startAtMs: b.nowMs, clock: { utcOffsetMin: -300 } }),
    b.write('move-begun', { moveId: 'mash-in' }),
    b.write('move-done', { moveId: 'mash-in' }),
    first,
    b.write('ladles-returned', { moveId: 'return-1', portions: 2 }),
    b.write('miss-mended', { code: 'small-pull', text: 'Second pull, 8 L', amountL: 8 }),
    b.write('wort-read', {
      point: 'kettle-full',
      litres: 512,
      tempC: 72,
      plato: 11.2,
      text: '512',
    }),
    b.write('kettle-chosen', {
      way: 'boil-longer',
      minutes: 84,
      liquorL: 0,
      extractKg: 0,
      text: 'Boil 84 min',
    }),
    b.write('caution-seen', { moveId: 'boil-1', code: 'scald' }),
    b.write('gate-confirmed', { code: 'false-bottom' }),
    b.write('brewer-called', { moveId: 'boil-1' }),
    b.write('note', { text: 'Lid left off\nfor a while' }),
    b.write('brew-ended', { reason: 'finished' }),
    b.write(
      'corrected',
      { of: 'reading', data: { ...first.data, value: 61 }, reason: 'misread' },
      { corrects: first.id },
    ),
    b.write('withdrawn', { reason: 'slip' }, { corrects: first.id }),
  ];
  for (const event of all) expect(parseEvent(event)).toEqual({ ok: true, event });
});

it.each([
  ['id', { id: 'abc' }, 'id'],
  ['stream', { stream: 'pub:1' }, 'stream'],
  ['stream with a path in it', { stream: 'brew:../etc' }, 'stream'],
  ['time before 1970', { readAtMs: -1 }, 'readAtMs'],
  ['time after 2100', { readAtMs: 5e12 }, 'readAtMs'],
  ['counter', { counter: 1.5 }, 'counter'],
  ['device', { device: 'a b' }, 'device'],
  ['who', { who: '' }, 'who'],
  ['type', { type: 'explosion' }, 'type'],
  ['a field nobody knows', { colour: 'red' }, 'colour'],
  ['a clock by words', { clock: { offsetMs: 'late' } }, 'clock.offsetMs'],
  ['a clock without its offset', { clock: {} }, 'clock.offsetMs'],
  ['a clock that knows more', { clock: { offsetMs: 0, sync: true } }, 'clock.sync'],
  ['corrects on a plain event', { corrects: 'f'.repeat(32) }, 'corrects'],
] as const)('refused: %s', (_, change, field) => {
  expect(refusal({ ...tablet().temp(62), ...change })?.field).toBe(field);
});

it('an event may say how its clock stood', () => {
  for (const clock of [{ offsetMs: -240_000 }, { offsetMs: 12, errorMs: 4, doubtMs: 0 }]) {
    const event = { ...tablet().temp(62), clock };
    expect(parseEvent(event)).toEqual({ ok: true, event });
  }
});

it('a withdrawal names what it withdraws', () => {
  expect(refusal(tablet().write('withdrawn', { reason: '' }))).toMatchObject({
    code: 'missing',
    field: 'corrects',
  });
});

it('a reading that cannot be true is refused by value and range', () => {
  const hot = tablet().temp(120);
  expect(refusal(hot)).toMatchObject({
    code: 'out-of-range',
    field: 'data.value',
    value: '120.0 °C',
    allowed: '0.0 °C to 105.0 °C',
  });
  const mend = tablet().write(
    'corrected',
    { of: 'reading', data: hot.data, reason: '' },
    { corrects: 'f'.repeat(32) },
  );
  expect(refusal(mend)?.field).toBe('data.data.value');
});

it('a kit that cannot exist is refused with the path inside the event', () => {
  const { kit } = example();
  const [tun, ...rest] = kit.vessels;
  const bad = { ...kit, vessels: [{ ...tun, deadL: 500 }, ...rest] };
  const event = new Tablet('t1', 'B', `kit:${kit.id}`).write('kit-saved', { kit: bad });
  expect(refusal(event)?.field).toBe('data.kit.vessels[0].deadL');
});

it.each([
  ['a kit in a brew', () => tablet().write('kit-saved', { kit: example().kit })],
  [
    'a kit under another id',
    () => new Tablet('t1', 'B', 'kit:other').write('kit-saved', { kit: example().kit }),
  ],
  ['a reading in a kit', () => new Tablet('t1', 'B', 'kit:k1').temp(62)],
] as const)('refused: %s', (_, make) => {
  expect(refusal(make())).toMatchObject({ code: 'contradiction', field: 'stream' });
});

it('whatever is sent, nothing throws', () => {
  const event = tablet().temp(62);
  fc.assert(
    fc.property(fc.jsonValue(), fc.constantFrom(...Object.keys(event)), (value, key) => {
      parseEvent(value);
      parseEvent({ ...event, [key]: value });
    }),
  );
});

it('a reading of wort says something, and says how warm its pH sample was', () => {
  const b = tablet();
  const empty = b.write('wort-read', { point: 'tank', text: '' });
  expect(refusal(empty)?.allowed).toBe('at least one figure');
  const bare = b.write('wort-read', { point: 'cast-out', ph: 5.2, text: '5.2' });
  expect(refusal(bare)?.field).toBe('data.phC');
});
