import type { Result } from '@ladlework/quantity';
import { type ReadonlySignal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { EngineError } from '../../engine/protocol.ts';
import { inPair } from '../../units/show.ts';

export type AnswerState<T> =
  /** `last`: what was answered before, to show while the next is worked out. */
  | { readonly state: 'asking'; readonly last?: T }
  | { readonly state: 'here'; readonly value: T }
  | { readonly state: 'failed'; readonly why: string };

/**
 * An answer of the engine for what stands on the page; asked again when that changes.
 *
 * @param ask puts the question
 * @param on what the question depends on
 */
export function useAnswer<T>(
  ask: () => Promise<Result<T, EngineError>>,
  on: readonly unknown[],
): ReadonlySignal<AnswerState<T>> {
  const answer = useSignal<AnswerState<T>>({ state: 'asking' });
  useEffect(() => {
    let wanted = true;
    const before = answer.peek();
    const last =
      before.state === 'here' ? before.value : 'last' in before ? before.last : undefined;
    answer.value = last === undefined ? { state: 'asking' } : { state: 'asking', last };
    void ask().then((result) => {
      if (!wanted) return;
      if (result.ok) answer.value = { state: 'here', value: result.value };
      else if (result.error.code !== 'superseded')
        answer.value = { state: 'failed', why: result.error.message };
    });
    return () => {
      wanted = false;
    };
  }, on);
  return answer;
}

/** The newest answer there is, be it of the question before. */
export function latestOf<T>(answer: AnswerState<T>): T | undefined {
  if (answer.state === 'here') return answer.value;
  return answer.state === 'asking' ? answer.last : undefined;
}

interface WaitingProps {
  readonly answer: ReadonlySignal<AnswerState<unknown>>;
  readonly what: string;
  readonly onStop: () => void;
}

/** Says that the engine is at it, and stops it; or why there is no answer. */
export function Waiting({ answer, what, onStop }: WaitingProps) {
  const { value } = answer;
  if (value.state === 'here') return null;
  if (value.state === 'failed')
    return (
      <p class="wrong" role="alert">
        <b>No answer.</b> {inPair(value.why)}
      </p>
    );
  return (
    <div class="note row" role="status">
      <span>{what}</span>
      <button type="button" class="btn" onClick={onStop}>
        Stop
      </button>
    </div>
  );
}
