/** Fields to change; one changed to nothing is left out. */
export type Change<T> = { readonly [K in keyof T]?: T[K] | undefined };

/** A record with fields changed; one changed to nothing is left out, as an optional field wants. */
export function put<T extends object>(before: T, change: Change<T>): T {
  const all = Object.entries({ ...before, ...change }).filter(([, value]) => value !== undefined);
  return Object.fromEntries(all) as T;
}
