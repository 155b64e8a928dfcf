/** New events to every open page, as server-sent events. */
import type { EventStore, StoredEvent } from '@ladlework/store';

/** Writes to 200 pages cost more than the events: those of a moment travel together [ms]. */
const GATHER_MS = 30;
/** Keeps the line open through proxies, and finds pages that have gone [ms]. */
const HEARTBEAT_MS = 15_000;
/** What a page that does not read may have waiting before it is cut off; it comes back [bytes]. */
const MOST_WAITING = 4 * 1024 * 1024;
const BATCH = 500;

interface Page {
  /** Paired device it belongs to; undefined for the machine itself. */
  readonly device: string | undefined;
  readonly controller: ReadableStreamDefaultController<Uint8Array>;
  /** Number of the last event written to it. */
  sent: number;
  /** While it reads the past, the present waits. */
  catchingUp: boolean;
}

const encoder = new TextEncoder();

export class LiveStream {
  readonly #store: EventStore;
  readonly #pages = new Set<Page>();
  readonly #log: (line: string) => void;
  readonly #heartbeat: NodeJS.Timeout;
  #last = 0;
  #gathering: NodeJS.Timeout | undefined;
  #closed = false;

  /**
   * @param store the log
   * @param last its newest number now
   * @param log one line for the operator
   */
  constructor(store: EventStore, last: number, log: (line: string) => void) {
    this.#store = store;
    this.#last = last;
    this.#log = log;
    this.#heartbeat = setInterval(() => this.#beat(), HEARTBEAT_MS);
    this.#heartbeat.unref();
  }

  get pages(): number {
    return this.#pages.size;
  }

  /** Says that the log has grown. */
  notify(): void {
    if (this.#closed || this.#gathering !== undefined) return;
    this.#gathering = setTimeout(() => {
      this.#gathering = undefined;
      this.#spread().catch((thrown) => this.#log(`live stream: ${String(thrown)}`));
    }, GATHER_MS);
  }

  /** Says something that is not of the log to every open page; who is not there misses it. */
  say(name: string, data: unknown): void {
    if (this.#closed || this.#pages.size === 0) return;
    const chunk = encoder.encode(`event: ${name}\ndata: ${JSON.stringify(data)}\n\n`);
    for (const page of this.#pages) if (!page.catchingUp) this.#write(page, chunk, page.sent);
  }

  /**
   * A stream of everything after a number: first what is there, then what comes.
   *
   * @param device whose it is, so that it ends when the device is shut out
   */
  open(after: number, device?: string): ReadableStream<Uint8Array> {
    let page: Page | undefined;
    return new ReadableStream<Uint8Array>(
      {
        start: (controller) => {
          page = { controller, device, sent: after, catchingUp: false };
          if (this.#closed) {
            controller.close();
            return;
          }
          this.#pages.add(page);
          // Two seconds before a page that lost the line asks again.
          controller.enqueue(encoder.encode('retry: 2000\n\n'));
          void this.#catchUp(page, true);
        },
        cancel: () => {
          if (page !== undefined) this.#pages.delete(page);
        },
      },
      new ByteLengthQueuingStrategy({ highWaterMark: 64 * 1024 }),
    );
  }

  /** Ends the streams of a device that was shut out. */
  closeOf(device: string): void {
    for (const page of this.#pages) if (page.device === device) this.#end(page);
  }

  /** Ends every stream. */
  close(): void {
    this.#closed = true;
    clearInterval(this.#heartbeat);
    clearTimeout(this.#gathering);
    for (const page of this.#pages) this.#end(page);
  }

  async #spread(): Promise<void> {
    for (;;) {
      const from = this.#last;
      const events = await this.#store.since(from, { limit: BATCH });
      const to = events.at(-1)?.seq;
      if (to === undefined || this.#closed) return;
      this.#last = to;
      const chunk = encoder.encode(events.map(asText).join(''));
      for (const page of this.#pages) {
        if (page.catchingUp || page.sent >= to) continue;
        if (page.sent === from) this.#write(page, chunk, to);
        else void this.#catchUp(page, false);
      }
    }
  }

  /** Writes the past in batches until there is none left. */
  async #catchUp(page: Page, first: boolean): Promise<void> {
    if (!this.#pages.has(page)) return;
    page.catchingUp = true;
    try {
      while (this.#pages.has(page)) {
        const events = await this.#store.since(page.sent, { limit: BATCH });
        const to = events.at(-1)?.seq;
        if (to === undefined) break;
        this.#write(page, encoder.encode(events.map(asText).join('')), to);
        await roomIn(page);
      }
      if (first && this.#pages.has(page)) {
        const last = await this.#store.last();
        const ready = `event: ready\ndata: ${JSON.stringify({ last })}\n\n`;
        this.#write(page, encoder.encode(ready), page.sent);
      }
    } catch (thrown) {
      this.#log(`live stream: ${String(thrown)}`);
      this.#end(page);
    } finally {
      page.catchingUp = false;
    }
    // What was spread while this page was still reading the past has passed it by.
    if (page.sent < this.#last) await this.#catchUp(page, false);
  }

  #write(page: Page, chunk: Uint8Array, sent: number): void {
    if (!this.#pages.has(page)) return;
    page.controller.enqueue(chunk);
    page.sent = sent;
    if ((page.controller.desiredSize ?? 0) < -MOST_WAITING) this.#cutOff(page);
  }

  #beat(): void {
    const chunk = encoder.encode(':\n\n');
    for (const page of this.#pages) this.#write(page, chunk, page.sent);
  }

  /** Drops what waits for a page that does not read. */
  #cutOff(page: Page): void {
    if (!this.#pages.delete(page)) return;
    this.#log('live stream: a page did not read and was cut off');
    page.controller.error(new Error('the page does not read'));
  }

  #end(page: Page): void {
    if (!this.#pages.delete(page)) return;
    page.controller.close();
  }
}

function asText({ seq, event }: StoredEvent): string {
  // JSON has no line breaks outside its strings, and writes those inside as \n: one data line.
  return `event: log\nid: ${seq}\ndata: ${JSON.stringify({ seq, event })}\n\n`;
}

/** Waits while a page has more waiting than it reads. */
async function roomIn(page: Page): Promise<void> {
  for (let n = 0; (page.controller.desiredSize ?? 0) < 0 && n < 200; n += 1) {
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}
