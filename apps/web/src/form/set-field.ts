/** A copy with one optional field set, or without it when the value is undefined. */
export function withField<T extends object, K extends keyof T>(
  of: T,
  key: K,
  value: T[K] | undefined,
): T {
  const { [key]: _old, ...rest } = of;
  return (value === undefined ? rest : { ...rest, [key]: value }) as T;
}
