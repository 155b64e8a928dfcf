/** Tells a finger from a drop, a sleeve and the heel of a hand. Pure. */

/** Shorter touches are drops and sleeves [ms]. @source field.md section 5, from memory there */
const SHORTEST_MS = 80;

export interface Press {
  /** What points: 'touch', 'mouse', 'pen'; '' for a keyboard or a foot switch. */
  readonly pointerType: string;
  /** From down to up [ms]. */
  readonly heldMs: number;
  /** Whether at any time of it more than one finger lay on the page. */
  readonly crowded: boolean;
}

/** Whether somebody meant it: keys and mice always, touches of one finger and long enough. */
export const isMeant = ({ pointerType, heldMs, crowded }: Press): boolean =>
  pointerType !== 'touch' || (heldMs >= SHORTEST_MS && !crowded);

/** Fingers on the page, and how often there was more than one. */
export class Fingers {
  #down = new Set<number>();
  #crowds = 0;

  /** A touch begins. */
  touch(id: number): void {
    this.#down.add(id);
    if (this.#down.size > 1) this.#crowds += 1;
  }

  /** A touch ends or is taken over by scrolling. */
  lift(id: number): void {
    this.#down.delete(id);
  }

  /** The page lost the touches: another app came up. */
  liftAll(): void {
    this.#down.clear();
  }

  get count(): number {
    return this.#down.size;
  }

  /** Grows with every touch that was not alone. */
  get crowds(): number {
    return this.#crowds;
  }
}
