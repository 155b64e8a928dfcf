/** What the page asks of the engine, and how the answer comes back over the worker's door. */
import type { Plan, PlanDocument } from '@ladlework/planner';
import type { Result } from '@ladlework/quantity';

/** Each kind of question with its answer; one question of a kind is under way at a time. */
export interface EngineCalls {
  plan: { ask: PlanDocument; answer: Plan };
}
export type CallKind = keyof EngineCalls;

/** Why there is no answer. `superseded`: a newer question of the kind was asked. */
export interface EngineError {
  readonly code: 'superseded' | 'cancelled' | 'broken';
  /** For the brewer. */
  readonly message: string;
}

export type Answer<K extends CallKind> = Result<EngineCalls[K]['answer'], EngineError>;

export type Question = {
  [K in CallKind]: {
    readonly serial: number;
    readonly kind: K;
    readonly ask: EngineCalls[K]['ask'];
  };
}[CallKind];

export interface Reply {
  readonly serial: number;
  readonly result: Result<unknown, EngineError>;
}
