/** Error of the model itself on extract at the end of conversion, 1 sd [% absolute] (judgement). */
export const STRUCTURAL_EXTRACT_SD_PCT = 1;

/**
 * Differences of limit between two plans for one malt, 1 sd [points], by number of pulls in which
 * they differ: what parameter draws leave of a difference taken draw by draw.
 *
 * @source docs/science/mash.md, How far to trust it: single decoction minus step infusion
 *   +0.3 ± 0.3, double minus step -0.4 ± 0.4
 */
export const DIFFERENCE_LIMIT_SD_POINTS = 0.4;

/**
 * Error of the model itself on an absolute limit of attenuation. Belongs to absolute figures only:
 * between two plans for the same malt it drops out.
 *
 * @param conversionC  hottest temperature at which the mash stood with starch still to convert [°C]
 * @returns 1 sd [points of attenuation]: 3 to 68 °C, 5 above, 7 above 72 °C
 * @source docs/science/mash.md, How far to trust it (judgement)
 * @example structuralLimitSd(65) // 3
 */
export function structuralLimitSd(conversionC: number): number {
  if (conversionC > 72) return 7;
  return conversionC > 68 ? 5 : 3;
}

/** What is asked of a mash before its figures may be shown. Leave out what is not known. */
export interface MashCircumstances {
  /** Coolest temperature of a vessel that holds live enzyme [°C]. */
  readonly coolestC?: number;
  /** Liquor per malt [kg/kg]. */
  readonly liquorRatio?: number;
  /** Share of the grist that is malt with its own enzymes [-]. */
  readonly enzymeMaltShare?: number;
  readonly mashPh?: number;
  /** Time the longest-standing mash has stood [min]. */
  readonly standMin?: number;
  readonly addedEnzymes?: boolean;
  readonly adjunctBoiledAlone?: boolean;
}

/** Why a figure does not hold. */
export interface ValidityReason {
  readonly code:
    | 'too-cold'
    | 'too-thick'
    | 'too-thin'
    | 'little-enzyme-malt'
    | 'ph'
    | 'too-long'
    | 'added-enzymes'
    | 'adjunct-boiled-alone';
  readonly field: string;
  readonly value: number | boolean;
  readonly allowed: string;
  /** For the brewer. */
  readonly sentence: string;
}

const num = (value: number, digits = 1) => String(Number(value.toFixed(digits)));

/**
 * Why the figures of the mash kinetics do not hold under these circumstances.
 *
 * @param c  circumstances
 * @returns reasons; an empty list where the figures hold
 * @source docs/science/mash.md, How far to trust it: 35-80 °C with enzymes, 2-5 kg/kg, at least
 *   70 % enzyme malt, pH 5.2-5.8, stands to 3 h; not for added enzymes or adjunct boiled alone
 */
export function mashValidity(c: MashCircumstances): ValidityReason[] {
  const reasons: ValidityReason[] = [];
  const { coolestC, liquorRatio, enzymeMaltShare, mashPh, standMin } = c;
  if (coolestC !== undefined && coolestC < 35)
    reasons.push({
      code: 'too-cold',
      field: 'coolestC',
      value: coolestC,
      allowed: '35 °C or warmer',
      sentence: `The mash stands at ${num(coolestC)} °C: below 35 °C nothing was measured, so dissolution and early extract do not hold.`,
    });
  if (liquorRatio !== undefined && liquorRatio < 2)
    reasons.push({
      code: 'too-thick',
      field: 'liquorRatio',
      value: liquorRatio,
      allowed: '2 to 5 kg/kg',
      sentence: `${num(liquorRatio)} kg liquor per kg malt is thicker than the 2 kg/kg the model was checked to: extract may be lower than shown.`,
    });
  if (liquorRatio !== undefined && liquorRatio > 5)
    reasons.push({
      code: 'too-thin',
      field: 'liquorRatio',
      value: liquorRatio,
      allowed: '2 to 5 kg/kg',
      sentence: `${num(liquorRatio)} kg liquor per kg malt is thinner than 5 kg/kg: the fall of attenuation shown there is not real.`,
    });
  if (enzymeMaltShare !== undefined && enzymeMaltShare < 0.7)
    reasons.push({
      code: 'little-enzyme-malt',
      field: 'enzymeMaltShare',
      value: enzymeMaltShare,
      allowed: '0.7 to 1',
      sentence: `Only ${num(100 * enzymeMaltShare, 0)} % of the grist brings enzymes; below 70 % conversion and attenuation do not hold.`,
    });
  if (mashPh !== undefined && !(mashPh >= 5.2 && mashPh <= 5.8))
    reasons.push({
      code: 'ph',
      field: 'mashPh',
      value: mashPh,
      allowed: '5.2 to 5.8',
      sentence: `Mash pH ${num(mashPh, 2)} is outside 5.2 to 5.8: the model has no pH term and was fitted inside that range.`,
    });
  if (standMin !== undefined && standMin > 180)
    reasons.push({
      code: 'too-long',
      field: 'standMin',
      value: standMin,
      allowed: 'up to 180 min at rests',
      sentence: `The mash stands ${num(standMin, 0)} min; stands beyond 3 h were not checked.`,
    });
  if (c.addedEnzymes === true)
    reasons.push({
      code: 'added-enzymes',
      field: 'addedEnzymes',
      value: true,
      allowed: 'malt enzymes only',
      sentence:
        'Enzymes were added: the model knows malt enzymes only, so attenuation does not hold.',
    });
  if (c.adjunctBoiledAlone === true)
    reasons.push({
      code: 'adjunct-boiled-alone',
      field: 'adjunctBoiledAlone',
      value: true,
      allowed: 'adjunct boiled with malt, or none',
      sentence:
        'Raw adjunct boiled without malt is outside the model: its starch is not in the figures.',
    });
  return reasons;
}
