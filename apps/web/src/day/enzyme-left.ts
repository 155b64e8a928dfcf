import type { MashNow } from '@ladlework/planner';

/**
 * What is left alive of the enzymes the grist brought, over all vessels.
 *
 * @param mash the mash of each vessel; shares are of the whole grist
 * @returns shares 0-1; nothing while no mash is known
 */
export function enzymeLeft(
  mash: readonly Pick<MashNow, 'reading'>[],
): { readonly alpha: number; readonly beta: number } | undefined {
  if (mash.length === 0) return undefined;
  const sum = (figure: 'alphaLeft' | 'betaLeft') =>
    mash.reduce((total, { reading }) => total + reading[figure], 0);
  return { alpha: sum('alphaLeft'), beta: sum('betaLeft') };
}
