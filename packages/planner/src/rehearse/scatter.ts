/** Seeds that lie side by side give first numbers that do too; scattered, they do not. */

/**
 * A 32-bit seed from several whole numbers, each bit of them telling.
 * @param parts whole numbers, any size
 * @returns 32-bit integer
 * @source finaliser of MurmurHash3 (Appleby, public domain)
 */
export function scattered(...parts: readonly number[]): number {
  let h = 0x9747b28c;
  for (const part of parts) {
    h = Math.imul(h ^ part, 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    h ^= h >>> 16;
  }
  return h | 0;
}
