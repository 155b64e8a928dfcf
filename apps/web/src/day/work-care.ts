/** Usual caution at the work beside the mash; common practice, no source. */

const CARE: readonly (readonly [RegExp, string])[] = [
  [
    /^(heat-sparge|park|park-strike|sparge|to-lauter)\b/,
    'Hot liquor scalds: hoses clamped, valve opened slowly, nobody under the line.',
  ],
  [
    /^heat-wort\b/,
    'Wort foams over as it comes to the boil: stay by it, burner down, cold water at hand. Indoors, burner off if the fan stops: CO.',
  ],
  [/^boil-wort\b/, 'Hops and a stir make boiling wort rise: a little at a time, arms covered.'],
  [
    /^knock-out\b/,
    'The line holds wort near the boil until the cooler runs: clamps checked first.',
  ],
  [
    /^pitch\b/,
    'Oxygen feeds fire: cylinder chained, no grease on its valve. CO2 lies low in a cellar: air it, and not alone.',
  ],
  [
    /^(lauter-rest|run-off)\b/,
    'Mash and wort scald: hoses clamped, tap opened slowly, no hand under the plates.',
  ],
  [/^grain-out\b/, 'Wet grain is heavy and hot: rake, small loads, or two to a tub.'],
  [
    /^(clean|sanitise|rinse)\b/,
    'Caustic and acid burn: goggles and gloves, never both together, vessel open and cool, no CO2 in a tank you reach into.',
  ],
];

/**
 * The caution that belongs to work of the timetable.
 *
 * @param moveId as it is logged
 */
export function careFor(moveId: string): string | undefined {
  return CARE.find(([work]) => work.test(moveId))?.[1];
}
