/** Makers of events for tests of this room and of those above it. */
import type { EventData, EventType, LogEvent, ReadingData } from './event.ts';
import type { PlanSummary, SummaryBand } from './summary.ts';

/** 06:00 on a winter morning, UTC. */
export const DAY_START_MS = Date.UTC(2026, 10, 25, 6, 0, 0);

/** One tablet in one pair of hands, with a clock that only moves when told. */
export class Tablet {
  readonly device: string;
  readonly who: string;
  readonly stream: string;
  nowMs: number;
  #counter = 0;

  constructor(device: string, who: string, stream = 'brew:b1', nowMs = DAY_START_MS) {
    this.device = device;
    this.who = who;
    this.stream = stream;
    this.nowMs = nowMs;
  }

  /** Moves the clock on, or back. */
  wait(minutes: number): this {
    this.nowMs += minutes * 60_000;
    return this;
  }

  write<T extends EventType>(
    type: T,
    data: EventData[T],
    more: { corrects?: string; readAtMs?: number; stream?: string } = {},
  ): LogEvent<T> {
    this.#counter += 1;
    const id = eventId(`${this.device}/${this.#counter}`);
    const event = {
      id,
      stream: this.stream,
      readAtMs: this.nowMs,
      enteredAtMs: this.nowMs,
      who: this.who,
      device: this.device,
      counter: this.#counter,
      type,
      data,
      ...more,
    };
    return event as unknown as LogEvent<T>;
  }

  /** A temperature of the tun, read in one place and settled. */
  temp(value: number, more: Partial<ReadingData> = {}): LogEvent<'reading'> {
    return this.write('reading', tempReading(value, more));
  }
}

export function tempReading(value: number, more: Partial<ReadingData> = {}): ReadingData {
  return {
    vessel: 'tun',
    what: 'temp',
    value,
    unit: '°C',
    text: String(value),
    places: 1,
    settled: true,
    ...more,
  };
}

/** 32 hex digits from a text (FNV-1a, four times over); spread enough for tests, never for use. */
export function eventId(text: string): string {
  let out = '';
  for (let part = 0; part < 4; part += 1) {
    let h = 0x811c9dc5 + part * 0x1234567;
    for (const ch of text) h = Math.imul(h ^ (ch.codePointAt(0) ?? 0), 0x01000193);
    out += (h >>> 0).toString(16).padStart(8, '0');
  }
  return out;
}

const band = (likely: number, half: number): SummaryBand => ({
  low: likely - half,
  likely,
  high: likely + half,
});

/** A one-pull day in four moves: mash in, pull, boil, return. */
export const ONE_PULL: PlanSummary = {
  moves: [
    move('mash-in', 'mash-in', 'tun', 'Mash in', 20, 35, 20, 62),
    move('pull-1', 'pull', 'tun', 'Pull 45 L', 55, 65, 62, 60.5),
    move('boil-1', 'boil', 'pot', 'Boil', 95, 110, 99, 99.5),
    move('return-1', 'return', 'tun', 'Return', 110, 122, 59, 71),
  ],
  returns: [
    {
      pull: 1,
      moveIds: { pull: ['pull-1'], return: ['return-1'] },
      restC: 62,
      targetC: 71,
      takeL: 45,
      portions: 15,
      tunBeforeC: band(59, 1),
      arrivalC: band(90, 4),
      landingC: band(71, 1.2),
    },
  ],
  strike: { litres: 110, tempC: band(70, 1) },
  mashEndMin: band(180, 12),
  addedMin: band(45, 8),
};

function move(
  id: string,
  kind: string,
  vessel: string,
  text: string,
  startMin: number,
  endMin: number,
  fromC: number,
  toC: number,
): PlanSummary['moves'][number] {
  return {
    id,
    kind,
    vessel,
    text,
    hands: ['B'],
    startMin: band(startMin, 3),
    endMin: band(endMin, 5),
    fromC: band(fromC, 1),
    toC: band(toC, 1.2),
    volumeL: 130,
  };
}

/** A document as far as the log looks into it. */
export const DOCUMENT = {
  kit: { id: 'k1', name: 'Two vessels' },
  beer: { id: 'x1', name: 'Pale lager' },
};
