/**
 * How likely an iodine test shows starch, in words. The ensemble has some two hundred draws;
 * nothing rarer than one in a hundred is told apart.
 *
 * @param chance 0-1
 */
export function chanceOfBlue(chance: number): string {
  if (chance < 0.01) return 'starch should be gone';
  if (chance > 0.99) return 'starch is still there; it is not the last word on the mash';
  return `blue in about ${Math.max(1, Math.round(chance * 100))} of 100 such mashes`;
}
