/// <reference lib="webworker" />
import { paperOf } from '@ladlework/paper';
import {
  attenuationAdvice,
  certificateWorth,
  lateReturns,
  planDay,
  rehearse,
} from '@ladlework/planner';
import { fail, ok, type Result } from '@ladlework/quantity';
import { help, instead, no, scale, search, ways, whatIf } from './comparing.ts';
import type { EngineError, Question, Reply } from './protocol.ts';
import { here, outlook, repairs, rescue, wayOut, waysOut, wort } from './running.ts';
import { dayGoesOn, wholeDay } from './timing.ts';

declare const self: DedicatedWorkerGlobalScope;

function answer(question: Question): Result<unknown, EngineError> {
  try {
    switch (question.kind) {
      case 'plan':
        return ok(planDay(question.ask));
      case 'timetable':
        return ok(wholeDay(question.ask));
      case 'replan':
        return ok(dayGoesOn(question.ask));
      case 'paper':
        return ok(paperOf(question.ask.document, question.ask.plan, question.ask.facts));
      case 'rehearse': {
        const { document, moves, seed, faults } = question.ask;
        return ok(rehearse(document, moves, { seed, faults }));
      }
      case 'late':
        return ok(lateReturns(question.ask.document, question.ask.lateMin));
      case 'worth':
        return ok(certificateWorth(question.ask.document, question.ask.wort));
      case 'here':
        return ok(here(question.ask));
      case 'outlook':
        return ok(outlook(question.ask));
      case 'wort':
        return ok(wort(question.ask));
      case 'attenuation':
        return ok(attenuationAdvice(question.ask.document, question.ask.wantedPct));
      case 'repairs':
        return ok(repairs(question.ask));
      case 'waysOut':
        return ok(waysOut(question.ask));
      case 'wayOut':
        return ok(wayOut(question.ask));
      case 'rescue':
        return ok(rescue(question.ask));
      case 'ways':
        return ok(ways(question.ask));
      case 'whatIf':
        return ok(whatIf(question.ask));
      case 'search':
        return ok(
          search(question.ask, (progress) => {
            self.postMessage({ serial: question.serial, progress } satisfies Reply);
          }),
        );
      case 'instead':
        return ok(instead(question.ask));
      case 'scale':
        return ok(scale(question.ask));
      case 'no':
        return ok(no(question.ask));
      case 'help':
        return ok(help(question.ask));
    }
  } catch (error) {
    // Documents are checked before they come here, so this is a bug; the page must still hear of it.
    const message = error instanceof Error ? error.message : String(error);
    return fail({ code: 'broken', message: `The engine could not answer: ${message}.` });
  }
}

self.onmessage = (event: MessageEvent<Question>) => {
  const reply: Reply = { serial: event.data.serial, result: answer(event.data) };
  self.postMessage(reply);
};
