import { type Signal, signal } from '@preact/signals';
import { createContext } from 'preact';
import { useContext, useMemo, useState } from 'preact/hooks';
import { readKept, writeKept } from '../shell/kept.ts';

/**
 * A form half filled in: the value as far as it can be read, and the texts that cannot be read yet.
 * Both survive a reload, so that an interruption costs nothing.
 */
export interface Draft<T> {
  readonly value: T;
  readonly texts: Readonly<Record<string, string>>;
}

export interface DraftStore<T> {
  readonly draft: Signal<Draft<T>>;
  set(value: T): void;
  setText(path: string, text: string | undefined): void;
  /** Forgets what was typed and starts again from `value`. */
  reset(value: T): void;
  /** True when something was typed since the last save. */
  readonly touched: Signal<boolean>;
}

/** Opens the draft kept under `key`, or a fresh one. */
function openDraft<T>(key: string, initial: T): DraftStore<T> {
  const keptDraft = readKept<Draft<T> | undefined>(`draft.${key}`, undefined, (raw) =>
    typeof raw === 'object' && raw !== null && 'value' in raw && 'texts' in raw
      ? (raw as Draft<T>)
      : undefined,
  );
  const draft = signal<Draft<T>>(keptDraft ?? { value: initial, texts: {} });
  const touched = signal(keptDraft !== undefined);
  const keep = (next: Draft<T>) => {
    draft.value = next;
    touched.value = true;
    writeKept(`draft.${key}`, next);
  };
  return {
    draft,
    touched,
    set: (value) => keep({ ...draft.value, value }),
    setText: (path, text) => {
      const { [path]: _old, ...others } = draft.value.texts;
      keep({ ...draft.value, texts: text === undefined ? others : { ...others, [path]: text } });
    },
    reset: (value) => {
      draft.value = { value, texts: {} };
      touched.value = false;
      writeKept(`draft.${key}`, undefined);
    },
  };
}

/** Lays a draft down for a form that is opened next. */
export function startDraft<T>(key: string, value: T): void {
  writeKept(`draft.${key}`, { value, texts: {} } satisfies Draft<T>);
}

/** The draft of a form for as long as the form is on the page. */
export function useDraft<T>(key: string, initial: T): DraftStore<T> {
  return useMemo(() => openDraft(key, initial), [key]);
}

/** The fields of a form find their unread texts here. */
export const DraftTexts = createContext<Pick<DraftStore<unknown>, 'draft' | 'setText'> | undefined>(
  undefined,
);

/** What is being typed into one field. */
export interface Typing {
  /** As typed, while it is being typed or as long as it cannot be read; else nothing. */
  readonly text: string | undefined;
  /** Takes what stands in the field now; what cannot be read is kept with the draft. */
  readonly type: (raw: string, readable: boolean) => void;
  /** The field was left: what could be read is written out by its value. */
  readonly leave: () => void;
}

/** Typing into the field at a path of the form. */
export function useTyping(path: string): Typing {
  const store = useContext(DraftTexts);
  if (store === undefined) throw new Error('a field stands outside its form');
  const [typed, setTyped] = useState<string | undefined>(undefined);
  return {
    text: typed ?? store.draft.value.texts[path],
    type: (raw, readable) => {
      setTyped(raw);
      store.setText(path, readable ? undefined : raw);
    },
    leave: () => setTyped(undefined),
  };
}
