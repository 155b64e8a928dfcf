/** Sends what was tapped here and takes in what was tapped elsewhere, whenever the server is there. */
import { signal } from '@preact/signals';
import { heard, type Network, waitMs } from '../shell/network.ts';
import { deviceName, paired, role } from './access.ts';
import { askMe, askTime, eventsAfter, type NoAnswer, readStreamed, sendEvents } from './api.ts';
import { clockWantsAnswer, nowMs, serverSaid, whenClockDoubtful } from './clock.ts';
import {
  acknowledged,
  events,
  refused,
  sequenceKnown,
  takeFromServer,
  waiting,
  whenAppended,
} from './house.ts';
import { takeNews } from './probes.ts';

/** What the page knows of its server. */
export const network = signal<Network>({ state: 'asking' });

const note = (answered: boolean) => {
  network.value = heard(network.value, answered, nowMs());
};

let failures = 0;
let timer: ReturnType<typeof setTimeout> | undefined;
let working = false;
let again = false;
let stream: EventSource | undefined;
let breaks = 0;

/** Begins to talk to the server, and never stops trying. */
export function startSync(): void {
  whenAppended(() => void round());
  whenClockDoubtful(() => void round());
  addEventListener('online', () => {
    failures = 0;
    void round();
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void round();
  });
  void round();
}

/** One round: clock, send, catch up, listen. Rounds never overlap. */
async function round(): Promise<void> {
  if (working) {
    again = true;
    return;
  }
  working = true;
  clearTimeout(timer);
  const fine = (await setClock()) && (await sendAll()) && (await catchUp()) && (await askRole());
  working = false;
  note(fine);
  if (!fine) {
    failures += 1;
    stream?.close();
    stream = undefined;
    timer = setTimeout(() => void round(), waitMs(failures, Math.random()));
    return;
  }
  failures = 0;
  listen();
  if (again) {
    again = false;
    void round();
  }
}

async function setClock(): Promise<boolean> {
  if (!clockWantsAnswer() && failures === 0) return true;
  const askedPerfMs = performance.now();
  const answer = await askTime();
  if (!answer.ok) return unanswered(answer.error);
  const answeredPerfMs = performance.now();
  serverSaid({ askedPerfMs, answeredPerfMs, answeredDateMs: Date.now(), serverMs: answer.value });
  return true;
}

/** A round ends here; a device that was shut out, or let in as something else, should know. */
function unanswered({ status }: NoAnswer): false {
  if (status === 401) paired.value = false;
  if (status === 403) roleAsked = false;
  return false;
}

let roleAsked = false;

/** Asks once, and again after the line was down: meanwhile the brewer may have changed it. */
async function askRole(): Promise<boolean> {
  paired.value = true;
  if (roleAsked && failures === 0) return true;
  const answer = await askMe();
  if (!answer.ok) return unanswered(answer.error);
  role.value = answer.value.role;
  deviceName.value = answer.value.name;
  roleAsked = true;
  return true;
}

async function sendAll(): Promise<boolean> {
  while (waiting.value.size > 0) {
    const ids = waiting.value;
    const batch = events.value.filter((e) => ids.has(e.id)).sort((a, b) => a.counter - b.counter);
    if (batch.length === 0) return true;
    const answer = await sendEvents(batch);
    if (!answer.ok) {
      unanswered(answer.error);
      // Paired as a viewer by now: the entries wait here, and the page goes on reading.
      return answer.error.status === 403;
    }
    await acknowledged(answer.value.held);
    for (const { id, reason } of answer.value.refused) await refused(id, reason);
    // A server that answers for none of them would be asked for ever.
    if (answer.value.held.length + answer.value.refused.length === 0) return false;
  }
  return true;
}

async function catchUp(): Promise<boolean> {
  let known = await sequenceKnown();
  for (;;) {
    const answer = await eventsAfter(known);
    if (!answer.ok) return unanswered(answer.error);
    const { events: fresh, upTo, last } = answer.value;
    if (fresh.length > 0) await takeFromServer(fresh, upTo);
    if (upTo >= last || fresh.length === 0) return true;
    known = upTo;
  }
}

function listen(): void {
  if (stream !== undefined) return;
  void sequenceKnown().then((known) => {
    if (stream !== undefined) return;
    const source = new EventSource(`/api/stream?after=${known}`);
    stream = source;
    const take = (message: MessageEvent<string>) => {
      const event = readStreamed(message.data);
      const sequence = Number(message.lastEventId);
      if (event === undefined) void round();
      else void takeFromServer([event], Number.isFinite(sequence) ? sequence : undefined);
    };
    source.addEventListener('log', take as EventListener);
    source.addEventListener('probes', (message: MessageEvent<string>) => takeNews(message.data));
    source.onopen = () => {
      breaks = 0;
    };
    source.onerror = () => {
      source.close();
      if (stream === source) stream = undefined;
      breaks += 1;
      clearTimeout(timer);
      timer = setTimeout(() => void round(), waitMs(breaks, Math.random()));
    };
  });
}
