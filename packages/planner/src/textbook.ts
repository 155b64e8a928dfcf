/**
 * Where the textbook says a pull lands: mash and pull at one heat per litre, the boiled part as hot
 * as it boiled, the rest of the mash not cooled, the tun without heat.
 * @param fraction of the mash pulled, by volume, 0-1
 * @param restC temperature of the rest [°C]
 * @param boilC boiling point here [°C]
 * @returns landing [°C]
 * @source mixing cross, physics.md 3.3 (school form, Metzger 1996, without its allowances)
 * @example textbookLanding(1 / 3, 62, 100) // 74.7
 */
export function textbookLanding(fraction: number, restC: number, boilC: number): number {
  return restC + fraction * (boilC - restC);
}
