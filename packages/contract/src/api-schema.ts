/** Bodies of the HTTP API. The server answers with these; its tests hold the answers against them. */
import * as v from 'valibot';
import { BeerSchema, DaySchema, KitSchema, MashSchema } from './brew-file.ts';
import { EventSchema } from './event-schema.ts';
import { sheet, whole } from './fields.ts';
import { ProbeSchema } from './probe-schema.ts';
import { ROLES } from './roles.ts';

const seq = () => whole(0, Number.MAX_SAFE_INTEGER);
const text = () => v.string();

export const FieldErrorSchema = sheet({
  code: v.picklist([
    'missing',
    'unknown-field',
    'wrong-type',
    'not-allowed',
    'out-of-range',
    'contradiction',
  ]),
  field: text(),
  value: text(),
  allowed: text(),
  message: text(),
});

const AppendResult = v.variant('ok', [
  sheet({ ok: v.literal(true), id: text(), seq: seq() }),
  sheet({
    ok: v.literal(false),
    /** As sent, when there was one. */
    id: v.exactOptional(text()),
    code: v.picklist(['invalid', 'other-content', 'not-your-role']),
    errors: v.array(FieldErrorSchema),
  }),
]);

/** In the order of the request. An event is on disk when its result is ok. */
export const AppendAnswer = sheet({ results: v.array(AppendResult) });

export const StoredEventSchema = sheet({ seq: seq(), event: EventSchema });

export const EventsAnswer = sheet({
  events: v.array(StoredEventSchema),
  /** Newest number in the log; ask again after the last event's number until it is reached. */
  last: seq(),
});

export const HealthAnswer = sheet({ ok: v.boolean(), version: text(), events: seq(), last: seq() });

export const TimeAnswer = sheet({ nowMs: whole(0, Number.MAX_SAFE_INTEGER) });

export const MeAnswer = sheet({
  role: v.picklist(ROLES),
  /** Whether the request came by https. */
  secure: v.boolean(),
  /** Of a paired device; absent for the machine itself. */
  device: v.exactOptional(text()),
  name: v.exactOptional(text()),
});

/** A QR code as one outline, in units of one module, border included. */
const QrOutline = sheet({ size: whole(0, 200), path: text() });

export const DevicesAnswer = sheet({
  devices: v.array(
    sheet({
      id: text(),
      name: text(),
      role: v.picklist(ROLES),
      pairedAtMs: v.number(),
      lastSeenMs: v.number(),
      /** Whether it was last here by https. */
      secure: v.boolean(),
      /** The device that asks. */
      here: v.boolean(),
    }),
  ),
  /** Empty when the server serves its own computer only. */
  codes: v.array(sheet({ role: v.picklist(ROLES), code: text(), url: text(), qr: QrOutline })),
  trust: v.exactOptional(
    sheet({ name: text(), fingerprint: text(), endsAtMs: v.number(), url: text(), qr: QrOutline }),
  ),
});

export const DoneAnswer = sheet({ ok: v.literal(true) });

export const ErrorAnswer = sheet({
  error: sheet({
    code: text(),
    message: text(),
    errors: v.exactOptional(v.array(FieldErrorSchema)),
  }),
});

export const CheckAnswer = v.variant('ok', [
  sheet({ ok: v.literal(true), document: v.unknown() }),
  sheet({ ok: v.literal(false), errors: v.array(FieldErrorSchema) }),
]);

const shelf = {
  id: text(),
  savedAtMs: v.number(),
  who: text(),
  retired: v.boolean(),
  version: v.number(),
  headId: text(),
};

export const KitsAnswer = sheet({ kits: v.array(sheet({ ...shelf, item: KitSchema })) });

export const BeersAnswer = sheet({
  beers: v.array(
    sheet({
      ...shelf,
      item: BeerSchema,
      mash: v.exactOptional(MashSchema),
      day: v.exactOptional(DaySchema),
      kitId: v.exactOptional(text()),
    }),
  ),
});

const BrewLine = sheet({
  brew: text(),
  beer: v.exactOptional(text()),
  kit: v.exactOptional(text()),
  startedAtMs: v.exactOptional(v.number()),
  lastAtMs: v.exactOptional(v.number()),
  ended: v.exactOptional(v.picklist(['finished', 'abandoned'])),
  current: v.exactOptional(text()),
  next: v.exactOptional(text()),
  readings: v.number(),
  conflicts: v.number(),
});

export const BrewsAnswer = sheet({ brews: v.array(BrewLine) });

const Band = sheet({ low: v.number(), likely: v.number(), high: v.number() });

const RecordRow = sheet({
  code: text(),
  kind: text(),
  atMs: v.exactOptional(v.number()),
  text: text(),
  vessel: v.exactOptional(text()),
  moveId: v.exactOptional(text()),
  quantity: v.exactOptional(text()),
  planned: v.exactOptional(Band),
  actual: v.exactOptional(v.number()),
  deviation: v.exactOptional(v.number()),
  outside: v.exactOptional(v.boolean()),
  who: v.exactOptional(text()),
  enteredLateMin: v.exactOptional(v.number()),
  standing: v.picklist(['holds', 'withdrawn', 'passed-over', 'not-done']),
  remark: v.exactOptional(text()),
});

export const RecordAnswer = sheet({ brew: BrewLine, rows: v.array(RecordRow) });

const ProbeLineSchema = sheet({
  probe: ProbeSchema,
  /** How it was heard last. */
  by: v.exactOptional(v.picklist(['http', 'mqtt'])),
  /** What was last wrong with what it sent; gone when it sends something right. */
  problem: v.exactOptional(sheet({ atMs: v.number(), message: text() })),
  /** As sent, and by its calibration, in the house unit. */
  newest: v.exactOptional(sheet({ atMs: v.number(), shows: v.number(), value: v.number() })),
});

export const ProbesAnswer = sheet({ probes: v.array(ProbeLineSchema) });

/** How many readings were taken. */
export const TakenAnswer = sheet({ taken: whole(0, 1_000_000) });

/** Kept readings as sent; a row stands for all readings between its ends. */
export const ProbeRowsAnswer = sheet({
  probe: text(),
  rows: v.array(
    sheet({
      fromMs: v.number(),
      toMs: v.number(),
      first: v.number(),
      last: v.number(),
      low: v.number(),
      high: v.number(),
      readings: v.number(),
    }),
  ),
});

/** Where a probe sends to, and what it proves itself with. */
export const ProbeAccessAnswer = sheet({
  http: sheet({ path: text(), token: text() }),
  mqtt: sheet({
    topic: text(),
    user: text(),
    password: text(),
    /** Of our own broker, when it is on. */
    port: v.exactOptional(v.number()),
    /** The house's broker, when we listen there. */
    house: v.exactOptional(sheet({ url: text(), connected: v.boolean() })),
  }),
});

/** Data of the live stream's `probes` messages: id, time, number as sent. */
export const ProbeNews = sheet({
  values: v.array(v.tuple([text(), v.number(), v.number()])),
});
