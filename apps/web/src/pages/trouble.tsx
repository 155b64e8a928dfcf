import { signal } from '@preact/signals';
import { reasonOf } from '../data/house.ts';

/** What went wrong last on this page, for the brewer. */
const trouble = signal<string | undefined>(undefined);

/** Does something that may fail, and says on the page when it does. */
export async function attempt(what: string, run: () => Promise<unknown>): Promise<boolean> {
  try {
    await run();
    trouble.value = undefined;
    return true;
  } catch (error) {
    trouble.value = `Could not ${what}: ${reasonOf(error)}`;
    return false;
  }
}

/** Says nothing while all is well. */
export function Trouble() {
  if (trouble.value === undefined) return null;
  return (
    <p class="wrong" role="alert">
      <b>{trouble.value}</b>
    </p>
  );
}
