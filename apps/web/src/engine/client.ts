import type { PlanDocument } from '@ladlework/planner';
import { fail, type Result } from '@ladlework/quantity';
import { latestOnly } from './latest.ts';
import type { Answer, CallKind, EngineCalls, EngineError, Question, Reply } from './protocol.ts';

type Settle = (result: Result<unknown, EngineError>) => void;

/** One worker thread and the questions it has not answered. */
function worker() {
  const open = new Map<number, Settle>();
  let serial = 0;
  let thread: Worker | undefined;

  const failAll = (error: EngineError) => {
    for (const settle of open.values()) settle(fail(error));
    open.clear();
  };
  const started = (): Worker => {
    if (thread !== undefined) return thread;
    const fresh = new Worker(new URL('./worker.ts', import.meta.url), {
      type: 'module',
      name: 'engine',
    });
    fresh.onmessage = (event: MessageEvent<Reply>) => {
      const settle = open.get(event.data.serial);
      open.delete(event.data.serial);
      settle?.(event.data.result);
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
    ask<K extends CallKind>(kind: K, ask: EngineCalls[K]['ask']): Promise<Answer<K>> {
      return new Promise((resolve) => {
        serial += 1;
        open.set(serial, resolve as Settle);
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

/** The engine as the page sees it: one question of a kind under way, the newest one waiting. */
export const engine = {
  plan: latestOnly((document: EngineCalls['plan']['ask']) => planning.ask('plan', document)),
  worth: latestOnly((ask: EngineCalls['worth']['ask']) => planning.ask('worth', ask)),
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
  stopTabling: tabling.stop,
  stopComparing: comparing.stop,
  rescue: latestOnly((ask: EngineCalls['rescue']['ask']) => running.ask('rescue', ask)),
};
