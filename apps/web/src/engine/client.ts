import type { PlanDocument, SearchProgress } from '@ladlework/planner';
import { fail, type Result } from '@ladlework/quantity';
import { latestOnly } from './latest.ts';
import type { Answer, CallKind, EngineCalls, EngineError, Question, Reply } from './protocol.ts';

/** Who waits for an answer, and hears how far it is. */
interface Waiting {
  readonly settle: (result: Result<unknown, EngineError>) => void;
  readonly hear: ((progress: SearchProgress) => void) | undefined;
}

/** One worker thread and the questions it has not answered. */
function worker() {
  const open = new Map<number, Waiting>();
  let serial = 0;
  let thread: Worker | undefined;

  const failAll = (error: EngineError) => {
    for (const { settle } of open.values()) settle(fail(error));
    open.clear();
  };
  const started = (): Worker => {
    if (thread !== undefined) return thread;
    const fresh = new Worker(new URL('./worker.ts', import.meta.url), {
      type: 'module',
      name: 'engine',
    });
    fresh.onmessage = (event: MessageEvent<Reply>) => {
      const { data } = event;
      const waiting = open.get(data.serial);
      if ('progress' in data) {
        waiting?.hear?.(data.progress);
        return;
      }
      open.delete(data.serial);
      waiting?.settle(data.result);
    };
    fresh.onerror = (event) => {
      thread = undefined;
      fresh.terminate();
      failAll({ code: 'broken', message: `The engine stopped: ${event.message || 'not loaded'}.` });
    };
    thread = fresh;
    return fresh;
  };
  return {
    ask<K extends CallKind>(
      kind: K,
      ask: EngineCalls[K]['ask'],
      hear?: (progress: SearchProgress) => void,
    ): Promise<Answer<K>> {
      return new Promise((resolve) => {
        serial += 1;
        open.set(serial, { settle: resolve as Waiting['settle'], hear });
        started().postMessage({ serial, kind, ask } as Question);
      });
    },
    /** Stops whatever is being computed; the next question starts a fresh thread. */
    stop() {
      thread?.terminate();
      thread = undefined;
      failAll({ code: 'cancelled', message: 'Stopped before the answer was there.' });
    },
  };
}

// A plan takes longer than a forecast; on its own thread it never holds the day up.
const planning = worker();
const running = worker();
// A timetable is proven for up to a second and a half; neither plan nor forecast waits for it.
const timing = worker();
// A comparison plays a dozen days; a plan asked for meanwhile must not stand behind it.
const comparing = worker();
// Nor must a slider that is being moved stand behind the table over every change.
const tabling = worker();
const searching = worker();

/** The engine as the page sees it: one question of a kind under way, the newest one waiting. */
export const engine = {
  plan: latestOnly((document: EngineCalls['plan']['ask']) => planning.ask('plan', document)),
  worth: latestOnly((ask: EngineCalls['worth']['ask']) => planning.ask('worth', ask)),
  rehearse: latestOnly((ask: EngineCalls['rehearse']['ask']) => comparing.ask('rehearse', ask)),
  late: latestOnly((ask: EngineCalls['late']['ask']) => planning.ask('late', ask)),
  timetable: latestOnly((ask: EngineCalls['timetable']['ask']) => timing.ask('timetable', ask)),
  replan: latestOnly((ask: EngineCalls['replan']['ask']) => timing.ask('replan', ask)),
  paper: latestOnly((ask: EngineCalls['paper']['ask']) => planning.ask('paper', ask)),
  stopPlanning: planning.stop,
  here: latestOnly((ask: EngineCalls['here']['ask']) => running.ask('here', ask)),
  outlook: latestOnly((ask: EngineCalls['outlook']['ask']) => running.ask('outlook', ask)),
  wort: latestOnly((ask: EngineCalls['wort']['ask']) => running.ask('wort', ask)),
  repairs: latestOnly((ask: EngineCalls['repairs']['ask']) => running.ask('repairs', ask)),
  ways: latestOnly((ask: EngineCalls['ways']['ask']) => comparing.ask('ways', ask)),
  whatIf: latestOnly((ask: EngineCalls['whatIf']['ask']) => comparing.ask('whatIf', ask)),
  help: latestOnly((document: PlanDocument) => tabling.ask('help', document)),
  search: latestOnly(
    ({
      hear,
      ...ask
    }: EngineCalls['search']['ask'] & { readonly hear: (progress: SearchProgress) => void }) =>
      searching.ask('search', ask, hear),
  ),
  no: latestOnly((ask: EngineCalls['no']['ask']) => searching.ask('no', ask)),
  stopSearching: searching.stop,
  stopTabling: tabling.stop,
  instead: latestOnly((ask: EngineCalls['instead']['ask']) => comparing.ask('instead', ask)),
  scale: latestOnly((ask: EngineCalls['scale']['ask']) => comparing.ask('scale', ask)),
  stopComparing: comparing.stop,
  waysOut: latestOnly((ask: EngineCalls['waysOut']['ask']) => running.ask('waysOut', ask)),
  wayOut: latestOnly((ask: EngineCalls['wayOut']['ask']) => running.ask('wayOut', ask)),
  rescue: latestOnly((ask: EngineCalls['rescue']['ask']) => running.ask('rescue', ask)),
};
