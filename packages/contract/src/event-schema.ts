/** Events as they come over the wire. */
import type { CorrectableType, EventData, LogEvent } from '@ladlework/log';
import { checkReading, streamParts } from '@ladlework/log';
import { unitPair } from '@ladlework/quantity';
import * as v from 'valibot';
import { BeerSchema, DaySchema, KitSchema, MashSchema } from './brew-file.ts';
import { type FieldError, fieldErrors } from './errors.ts';
import { few, line, plain, prose, sheet, shortId, whole } from './fields.ts';
import { kitContradictions } from './kit-check.ts';
import { documentContradictions } from './mash-check.ts';
import { MoveSchema } from './move-schema.ts';
import type { Parsed } from './parse.ts';
import { ProbeSchema, probeContradictions } from './probe-schema.ts';

/** 1 January 2100: a clock beyond it is broken. */
const LATEST_MS = Date.UTC(2100, 0, 1);

const eventId = () =>
  v.pipe(v.string(), v.regex(/^[0-9a-f]{32}$/, 'must be 32 lower-case hex digits'));
const time = () => whole(0, LATEST_MS);
const finite = () => plain(-1e7, 1e7);
const band = () => sheet({ low: finite(), likely: finite(), high: finite() });
const ids = () => few(shortId(), 0, 20);

export const PlanSummarySchema = sheet({
  moves: few(
    sheet({
      id: shortId(),
      kind: shortId(),
      vessel: shortId(),
      text: line(300),
      hands: ids(),
      startMin: band(),
      endMin: band(),
      fromC: band(),
      toC: band(),
      volumeL: finite(),
      litres: v.exactOptional(finite()),
    }),
    0,
    200,
  ),
  returns: few(
    sheet({
      pull: whole(1, 20),
      moveIds: sheet({ pull: ids(), return: ids() }),
      restC: finite(),
      targetC: finite(),
      takeL: finite(),
      portions: whole(0, 10_000),
      tunBeforeC: band(),
      arrivalC: band(),
      landingC: band(),
    }),
    0,
    20,
  ),
  strike: sheet({ litres: finite(), tempC: band() }),
  mashEndMin: band(),
  addedMin: band(),
  wort: v.exactOptional(
    few(sheet({ point: v.picklist(['kettle-full', 'cast-out', 'tank']), plato: band() }), 0, 3),
  ),
});

export const DocumentSchema = sheet({
  kit: KitSchema,
  beer: BeerSchema,
  mash: MashSchema,
  day: DaySchema,
});
const moveId = () => v.exactOptional(shortId());

/** The data of each type; the compiler holds it against the log's own types. */
const DATA = {
  'kit-saved': sheet({ kit: KitSchema }),
  'kit-retired': sheet({}),
  'beer-saved': sheet({
    beer: BeerSchema,
    mash: v.exactOptional(MashSchema),
    day: v.exactOptional(DaySchema),
    kitId: v.exactOptional(shortId()),
  }),
  'beer-retired': sheet({}),
  'probe-saved': sheet({ probe: ProbeSchema }),
  'probe-retired': sheet({}),
  'brew-planned': sheet({
    document: DocumentSchema,
    planSummary: PlanSummarySchema,
    dayOf: v.exactOptional(shortId()),
  }),
  'plan-changed': sheet({
    document: DocumentSchema,
    planSummary: PlanSummarySchema,
    reason: prose(500),
    moves: v.exactOptional(few(MoveSchema, 0, 200)),
  }),
  'brew-started': sheet({
    startAtMs: time(),
    clock: sheet({ utcOffsetMin: whole(-840, 840), zone: v.exactOptional(line(60)) }),
  }),
  'move-begun': sheet({ moveId: shortId() }),
  'move-done': sheet({ moveId: shortId() }),
  reading: sheet({
    vessel: shortId(),
    what: v.picklist(['temp', 'volume', 'gravity', 'ph', 'iodine', 'level']),
    value: finite(),
    unit: prose(12),
    text: prose(60),
    places: v.picklist([1, 3]),
    settled: v.boolean(),
    sdK: v.exactOptional(plain(0, 1000)),
    moveId: moveId(),
    probe: v.exactOptional(shortId()),
  }),
  'ladles-returned': sheet({ moveId: shortId(), portions: plain(0.01, 1000) }),
  'miss-mended': sheet({
    code: shortId(),
    text: line(300),
    amountL: v.exactOptional(plain(0, 20_000, 'L')),
    minutes: v.exactOptional(plain(0, 1440, 'min')),
    moveId: moveId(),
  }),
  'miss-told': sheet({
    code: v.picklist([
      'landed-low',
      'landed-high',
      'tun-slipped',
      'pot-late',
      'spilled',
      'stuck',
      'scorched',
      'boiled-over',
      'iodine-blue',
      'pump-dead',
      'burner-out',
      'helper-gone',
    ]),
    text: line(300),
    vessel: v.exactOptional(shortId()),
    litres: v.exactOptional(plain(0, 20_000, 'L')),
    minutes: v.exactOptional(plain(0, 600, 'min')),
    thing: v.exactOptional(shortId()),
    moveId: moveId(),
  }),
  'miss-over': sheet({ miss: eventId() }),
  'wort-read': sheet({
    point: v.picklist(['run-off', 'kettle-full', 'cast-out', 'knock-out', 'tank']),
    litres: v.exactOptional(plain(0, 20_000, 'L')),
    tempC: v.exactOptional(plain(0, 110, '°C')),
    plato: v.exactOptional(plain(0, 40, '°P')),
    ph: v.exactOptional(plain(3, 9)),
    phC: v.exactOptional(plain(0, 100, '°C')),
    tapPlato: v.exactOptional(plain(0, 40, '°P')),
    tapPh: v.exactOptional(plain(3, 9)),
    flowLMin: v.exactOptional(plain(0, 1000, 'L/min')),
    headM: v.exactOptional(plain(0, 5, 'm')),
    liquorInC: v.exactOptional(plain(0, 60, '°C')),
    wortOutC: v.exactOptional(plain(0, 105, '°C')),
    text: prose(120),
  }),
  'kettle-chosen': sheet({
    way: v.picklist(['accept', 'boil-longer', 'boil-shorter', 'add-liquor', 'add-extract']),
    minutes: plain(0, 300, 'min'),
    liquorL: plain(0, 20_000, 'L'),
    extractKg: plain(0, 5000, 'kg'),
    text: line(300),
  }),
  'caution-seen': sheet({ moveId: shortId(), code: shortId() }),
  'gate-confirmed': sheet({ code: shortId() }),
  'brewer-called': sheet({ moveId: moveId() }),
  note: sheet({ text: prose(2000), moveId: moveId() }),
  'brew-ended': sheet({
    reason: v.picklist(['finished', 'abandoned']),
    text: v.exactOptional(prose(2000)),
  }),
} satisfies { readonly [K in CorrectableType]: v.GenericSchema<unknown, EventData[K]> };

const TYPES = Object.keys(DATA) as CorrectableType[];

/** Every stream there can be. */
export const STREAM_NAME = /^(kit|beer|probe|brew):[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$/;

const envelope = {
  id: eventId(),
  stream: v.pipe(
    v.string(),
    v.regex(STREAM_NAME, 'must be kit:, beer:, probe: or brew: and an id'),
  ),
  readAtMs: time(),
  enteredAtMs: time(),
  who: line(40),
  device: shortId(),
  counter: whole(0, Number.MAX_SAFE_INTEGER),
  clock: v.exactOptional(
    sheet({
      offsetMs: whole(-LATEST_MS, LATEST_MS),
      errorMs: v.exactOptional(whole(0, LATEST_MS)),
      doubtMs: v.exactOptional(whole(0, LATEST_MS)),
    }),
  ),
};

const Corrected = v.variant(
  'of',
  TYPES.map((type) =>
    sheet({
      of: v.literal(type),
      data: DATA[type],
      readAtMs: v.exactOptional(time()),
      reason: prose(500),
    }),
  ),
);

/** One event. Built from the table above, which the compiler has checked; hence the cast. */
export const EventSchema = v.variant('type', [
  ...TYPES.map((type) => sheet({ ...envelope, type: v.literal(type), data: DATA[type] })),
  sheet({ ...envelope, type: v.literal('corrected'), corrects: eventId(), data: Corrected }),
  sheet({
    ...envelope,
    type: v.literal('withdrawn'),
    corrects: eventId(),
    data: sheet({ reason: prose(500) }),
  }),
]) as unknown as v.GenericSchema<unknown, LogEvent>;

/**
 * Checks one event: shape and ranges, that it stands in a stream of its kind, and that what it
 * carries can be true.
 *
 * @param json parsed JSON from a device nobody vouches for
 */
export function parseEvent(json: unknown): Parsed<'event', LogEvent> {
  const parsed = v.safeParse(EventSchema, json);
  if (!parsed.success) return { ok: false, errors: fieldErrors(json, parsed.issues) };
  const event = parsed.output;
  const errors = [...streamErrors(event), ...truthErrors(event)];
  return errors.length > 0 ? { ok: false, errors } : { ok: true, event };
}

/** Kits, beers and probes are kept in streams of their own, the rest in brews. */
function streamErrors(event: LogEvent): FieldError[] {
  const of = event.type === 'corrected' ? event.data.of : event.type;
  if (of === 'withdrawn') return [];
  const parts = streamParts(event.stream);
  const kind = SHELVES.find((k) => of.startsWith(`${k}-`)) ?? 'brew';
  const id = savedId(event);
  if (parts?.kind === kind && (id === undefined || id === parts.id)) return [];
  const allowed = `${kind}:${id ?? 'an id'}`;
  return [
    {
      code: 'contradiction',
      field: 'stream',
      value: `"${event.stream}"`,
      allowed,
      message: `stream: "${event.stream}" is no place for ${of}; allowed: ${allowed}.`,
    },
  ];
}

const SHELVES = ['kit', 'beer', 'probe'] as const;

/** What an event says, corrections opened. */
function saying(event: LogEvent): { type: string; data: unknown; path: string[] } {
  return event.type === 'corrected'
    ? { type: event.data.of, data: event.data.data, path: ['data', 'data'] }
    : { type: event.type, data: event.data, path: ['data'] };
}

function savedId(event: LogEvent): string | undefined {
  const { type, data } = saying(event);
  if (type === 'kit-saved') return (data as EventData['kit-saved']).kit.id;
  if (type === 'beer-saved') return (data as EventData['beer-saved']).beer.id;
  if (type === 'probe-saved') return (data as EventData['probe-saved']).probe.id;
  return undefined;
}

/** A kit or probe that cannot exist, a reading that cannot be true. */
function truthErrors(event: LogEvent): FieldError[] {
  const { type, data, path } = saying(event);
  const prefix = path.join('.');
  const under = (name: string, errors: readonly FieldError[]) =>
    errors.map((e) => ({ ...e, field: `${prefix}.${name}${e.field}` }));
  if (type === 'kit-saved') {
    const { kit } = data as v.InferOutput<(typeof DATA)['kit-saved']>;
    return under('kit.', kitContradictions(kit));
  }
  if (type === 'probe-saved') {
    return under('probe.', probeContradictions((data as EventData['probe-saved']).probe));
  }
  if (type === 'brew-planned' || type === 'plan-changed') {
    const { document } = data as v.InferOutput<(typeof DATA)['brew-planned']>;
    return under('document.', documentContradictions(document));
  }
  if (type === 'wort-read') return wortReadErrors(data as EventData['wort-read'], prefix);
  if (type !== 'reading') return [];
  const check = checkReading(data as EventData['reading'], { pair: unitPair('metric') });
  if (check.ok || check.verdict === 'doubtful') return [];
  const { value, allowed, message } = check;
  return [{ code: 'out-of-range', field: `${prefix}.value`, value, allowed, message }];
}

/** A reading of wort that says nothing, or litres and pH that nobody can bring to 20 °C. */
function wortReadErrors(read: EventData['wort-read'], prefix: string): FieldError[] {
  const { point: _point, text: _text, ...figures } = read;
  const say = (field: string, value: unknown, allowed: string, why: string): FieldError[] => [
    {
      code: 'contradiction',
      field: `${prefix}${field}`,
      value: JSON.stringify(value),
      allowed,
      message: `${prefix}${field}: ${why}; allowed: ${allowed}.`,
    },
  ];
  if (Object.keys(figures).length === 0)
    return say('', read, 'at least one figure', 'the reading holds no figure');
  if (read.ph !== undefined && read.phC === undefined)
    return say(
      '.phC',
      undefined,
      '0 to 100 °C',
      'a pH means nothing without the temperature of its sample',
    );
  return [];
}
