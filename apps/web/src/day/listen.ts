/** The browser's ear, where it has one: used only when switched on, and one number at a time. */
import { signal } from '@preact/signals';
import { kept, oneOf } from '../shell/kept.ts';

/** Off until somebody wants it. */
export const speech = kept<'on' | 'off'>('speech', 'off', oneOf('on', 'off'));

/** What there is of speech recognition in a browser; few know all of it. */
interface Recognition extends EventTarget {
  lang: string;
  maxAlternatives: number;
  processLocally?: boolean;
  onresult: ((event: { results: ArrayLike<ArrayLike<{ transcript: string }>> }) => void) | null;
  onerror: ((event: { error: string }) => void) | null;
  onend: (() => void) | null;
  start(): void;
  abort(): void;
}
interface RecognitionKind {
  new (): Recognition;
  available?(options: { langs: string[]; processLocally: boolean }): Promise<string>;
}

const LANGUAGE = 'en';

function kind(): RecognitionKind | undefined {
  const offered = window as unknown as Partial<
    Record<'SpeechRecognition' | 'webkitSpeechRecognition', RecognitionKind>
  >;
  return offered.SpeechRecognition ?? offered.webkitSpeechRecognition;
}

/** Where what is heard is made out: here, at the browser's maker, or not at all. */
export const ear = signal<'asking' | 'here' | 'away' | 'none'>('asking');

/** Finds out once what this browser can; asks nobody and opens no microphone. */
export async function findEar(): Promise<void> {
  const found = kind();
  if (found === undefined) {
    ear.value = 'none';
    return;
  }
  try {
    const local = await found.available?.({ langs: [LANGUAGE], processLocally: true });
    ear.value = local === 'available' ? 'here' : 'away';
  } catch {
    // A browser that cannot say is taken for the worse case, and the page says that.
    ear.value = 'away';
  }
}

/**
 * Listens for one phrase.
 *
 * @param onHeard what was made out, most likely first
 * @param onSilent why there is nothing, in words
 * @returns stops listening
 */
export function listen(
  onHeard: (phrases: readonly string[]) => void,
  onSilent: (why: string) => void,
): () => void {
  const Kind = kind();
  if (Kind === undefined) {
    onSilent('This browser cannot listen. Type the number.');
    return () => undefined;
  }
  const hearing = new Kind();
  hearing.lang = LANGUAGE;
  hearing.maxAlternatives = 5;
  if (ear.value === 'here') hearing.processLocally = true;
  let answered = false;
  hearing.onresult = ({ results }) => {
    answered = true;
    const first = results[0];
    onHeard(first === undefined ? [] : Array.from(first, (a) => a.transcript));
  };
  hearing.onerror = ({ error }) => {
    answered = true;
    onSilent(WHY[error] ?? `The browser heard nothing: ${error}. Type the number.`);
  };
  hearing.onend = () => {
    if (!answered) onSilent('Nothing was heard. Say it again, or type it.');
  };
  try {
    hearing.start();
  } catch (error) {
    answered = true;
    onSilent(`The browser does not listen: ${error instanceof Error ? error.message : error}.`);
  }
  return () => {
    answered = true;
    hearing.abort();
  };
}

const WHY: Readonly<Record<string, string>> = {
  'not-allowed':
    'This page may not use the microphone. Allow it in the browser, or type the number.',
  'service-not-allowed': 'This browser does not listen on this page. Type the number.',
  network: 'Without network this browser cannot make out speech. Type the number.',
  'no-speech': 'Nothing was heard. Say it again, or type it.',
  'audio-capture': 'There is no microphone. Type the number.',
};
