/** Description of the HTTP API, built from the schemas that check it. */
import {
  AppendAnswer,
  BeersAnswer,
  BrewsAnswer,
  CheckAnswer,
  DevicesAnswer,
  DoneAnswer,
  ErrorAnswer,
  EventsAnswer,
  FieldErrorSchema,
  HealthAnswer,
  KitsAnswer,
  MeAnswer,
  ProbeAccessAnswer,
  ProbeNews,
  ProbeRowsAnswer,
  ProbesAnswer,
  RecordAnswer,
  StoredEventSchema,
  TakenAnswer,
  TimeAnswer,
} from './api-schema.ts';
import { AppendBody } from './append-body.ts';
import { BeerSchema, DaySchema, KitSchema, MashSchema, PlanDocumentSchema } from './brew-file.ts';
import { DocumentSchema, EventSchema, PlanSummarySchema } from './event-schema.ts';
import { schemaDefinitions } from './json-schema.ts';
import { ProbeReadingsBody, ProbeSchema } from './probe-schema.ts';

const SCHEMAS = {
  PlanDocument: PlanDocumentSchema,
  Kit: KitSchema,
  Beer: BeerSchema,
  Mash: MashSchema,
  Day: DaySchema,
  LoggedDocument: DocumentSchema,
  PlanSummary: PlanSummarySchema,
  Event: EventSchema,
  StoredEvent: StoredEventSchema,
  FieldError: FieldErrorSchema,
  AppendBody,
  AppendAnswer,
  EventsAnswer,
  HealthAnswer,
  TimeAnswer,
  MeAnswer,
  DevicesAnswer,
  DoneAnswer,
  ErrorAnswer,
  CheckAnswer,
  KitsAnswer,
  BeersAnswer,
  BrewsAnswer,
  RecordAnswer,
  Probe: ProbeSchema,
  ProbeReadingsBody,
  ProbesAnswer,
  ProbeRowsAnswer,
  ProbeAccessAnswer,
  ProbeNews,
  TakenAnswer,
};

type SchemaName = keyof typeof SCHEMAS;

const ref = (name: SchemaName) => ({ $ref: `#/components/schemas/${name}` });
const json = (name: SchemaName) => ({ 'application/json': { schema: ref(name) } });
const answer = (name: SchemaName, description: string) => ({ description, content: json(name) });
const body = (name: SchemaName) => ({ required: true, content: json(name) });
const refused = (description: string) => answer('ErrorAnswer', description);

/** Of a brew, a probe or a device. */
const OWN_ID = {
  name: 'id',
  in: 'path',
  required: true,
  schema: { type: 'string', pattern: '^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$' },
};
const AFTER = {
  name: 'after',
  in: 'query',
  description: 'Only events with a greater number.',
  schema: { type: 'integer', minimum: 0, default: 0 },
};
const STREAM = {
  name: 'stream',
  in: 'query',
  description: 'Only this stream: `kit:…`, `beer:…`, `probe:…` or `brew:…`.',
  schema: { type: 'string' },
};

const time = (name: string, description: string) => ({
  name,
  in: 'query',
  description,
  schema: { type: 'integer', minimum: 0 },
});
const FROM = time('from', 'Rows that begin at this time or later [ms since 1970].');
const TO = time('to', 'Rows that begin at this time or earlier [ms since 1970].');

const get = (summary: string, name: SchemaName, parameters: readonly object[] = []) => ({
  get: {
    summary,
    parameters,
    responses: { 200: answer(name, summary), 401: refused('This device is not paired.') },
  },
});

/**
 * The OpenAPI 3.1 document.
 *
 * @param version of Ladlework
 */
export function openApiDocument(version: string): object {
  return {
    openapi: '3.1.0',
    info: {
      title: 'Ladlework',
      version,
      description:
        'The brew log over HTTP. An event is acknowledged only when it is on disk; sending it again changes nothing.',
      license: { name: 'Apache-2.0', identifier: 'Apache-2.0' },
    },
    paths: {
      '/api/health': get('Whether the server and its log are well.', 'HealthAnswer'),
      '/api/time': get('The server’s clock, for a tablet to know its own offset.', 'TimeAnswer'),
      '/api/me': get('Who the server takes this device for.', 'MeAnswer'),
      '/api/devices': get(
        'Paired devices, and the codes that pair more. A brewer’s only.',
        'DevicesAnswer',
      ),
      '/api/devices/codes': {
        post: {
          summary: 'Make new pairing codes; the old ones end.',
          responses: {
            200: answer('DoneAnswer', 'The old codes pair nobody any more.'),
            403: refused('This device is not paired as a brewer’s.'),
          },
        },
      },
      '/api/devices/{id}/revoke': {
        post: {
          summary: 'Shut a device out, at once.',
          parameters: [OWN_ID],
          responses: {
            200: answer('DoneAnswer', 'It is out, its live stream too.'),
            403: refused('This device is not paired as a brewer’s.'),
            404: refused('There is no such device.'),
          },
        },
      },
      '/api/events': {
        ...get('Events in the order they were stored.', 'EventsAnswer', [AFTER, STREAM]),
        post: {
          summary: 'Append events. One result each, in order; ok means on disk.',
          requestBody: body('AppendBody'),
          responses: {
            200: answer('AppendAnswer', 'Committed and synced.'),
            400: refused('The body is not JSON or not a batch of events.'),
            401: refused('This device is not paired.'),
            403: refused('This device is paired as a viewer.'),
            413: refused('The body is too large.'),
            429: refused('Too many requests from this device.'),
            507: refused('Not saved: the disk is full. Keep the events and send them again.'),
          },
        },
      },
      '/api/stream': {
        get: {
          summary: 'New events as server-sent events; the event id is its number in the log.',
          parameters: [
            AFTER,
            {
              name: 'Last-Event-ID',
              in: 'header',
              description: 'Go on after this number; wins over `after`.',
              schema: { type: 'string' },
            },
          ],
          responses: {
            200: {
              description:
                'Events named `log`, data as one item of EventsAnswer; and `probes`, once a second while any sends, data as ProbeNews.',
              content: { 'text/event-stream': { schema: { type: 'string' } } },
            },
          },
        },
      },
      '/api/kits': get('Kits as last saved.', 'KitsAnswer'),
      '/api/beers': get('Beers as last saved.', 'BeersAnswer'),
      '/api/brews': get('Brews, newest first.', 'BrewsAnswer'),
      '/api/brews/{id}/record': {
        get: {
          summary: 'The record of a brew: planned against done.',
          parameters: [
            OWN_ID,
            { name: 'format', in: 'query', schema: { enum: ['json', 'csv'], default: 'json' } },
          ],
          responses: {
            200: {
              description: 'The record.',
              content: { ...json('RecordAnswer'), 'text/csv': { schema: { type: 'string' } } },
            },
            404: refused('There is no such brew.'),
          },
        },
      },
      '/api/probes': get('Probes in use, with their newest reading.', 'ProbesAnswer'),
      '/api/probes/{id}/readings': {
        get: get('What a probe sent, as kept.', 'ProbeRowsAnswer', [OWN_ID, FROM, TO]).get,
        post: {
          summary:
            'Readings of a probe: one, several, or a bare number. Several need times of their own, and are answered when they are on disk.',
          security: [{ probeToken: [] }],
          parameters: [OWN_ID],
          requestBody: {
            required: true,
            content: {
              ...json('ProbeReadingsBody'),
              'text/plain': { schema: { type: 'string', examples: ['62.4', '143.6 °F'] } },
              'application/x-www-form-urlencoded': {
                schema: {
                  type: 'object',
                  required: ['value'],
                  properties: {
                    value: { type: 'string' },
                    unit: { type: 'string' },
                    atMs: { type: 'integer' },
                    token: { type: 'string', description: 'For devices that cannot set a header.' },
                  },
                },
              },
            },
          },
          responses: {
            200: answer('TakenAnswer', 'Taken.'),
            400: refused('Which field, what it was, what is allowed.'),
            401: refused('No such probe, or not its token.'),
            413: refused('The body is too large.'),
            415: refused('Neither JSON, nor plain text, nor a form.'),
            429: refused('Too many messages, or too many wrong tokens.'),
            507: refused('Not saved: keep the readings and send them again.'),
          },
        },
      },
      '/api/probes/{id}/access': get(
        'Where the probe sends to and what it proves itself with.',
        'ProbeAccessAnswer',
        [OWN_ID],
      ),
      '/api/check': {
        post: {
          summary: 'Check a plan document without keeping it.',
          requestBody: body('PlanDocument'),
          responses: {
            200: answer('CheckAnswer', 'The document in SI, or what is wrong with it.'),
            400: refused('The body is not JSON.'),
            413: refused('The body is too large.'),
          },
        },
      },
      '/api/openapi.json': {
        get: {
          summary: 'This description.',
          responses: { 200: { description: 'OpenAPI 3.1.', content: { 'application/json': {} } } },
        },
      },
    },
    components: {
      schemas: schemaDefinitions(SCHEMAS),
      securitySchemes: {
        probeToken: { type: 'http', scheme: 'bearer', description: 'Shown on the kit page.' },
      },
    },
  };
}
