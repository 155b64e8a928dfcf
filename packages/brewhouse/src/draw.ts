/**
 * A draw: one full set of the things about a kit and a malt that nobody knows exactly. A kit owns
 * an ensemble of draws; the spread of what they give is the honest band on every number shown.
 */
export interface Draw {
  /** Factor on the wall loss of every vessel, 0.1-10. */
  readonly loss: number;
  /** Factor on evaporation and convection at open surfaces below the boil, 0.1-10. */
  readonly surface: number;
  /** Factor on the heat capacity of vessel walls, 0.1-10. */
  readonly wall: number;
  /** Factor on the net power of every burner, 0.2-2. */
  readonly burner: number;
  /** Factor on the surface a portion shows on its way, 0-10. */
  readonly transfer: number;
  /** True litres in a nominal litre as the brewer measures a pull, 0.7-1.4. */
  readonly dip: number;
  /** Factor on the minutes hands need for a portion, 0.3-3. */
  readonly hands: number;
  /** Factor on the ratio of grist to liquor a pull takes against what was asked, 0.3-3. */
  readonly thickness: number;
  /** Heat capacity of grist as milled [kJ/(kg K)], 1.4-2.2. */
  readonly gristKJKgK: number;
  /** Factor on the slaking heat, 0-3. */
  readonly slaking: number;
  /** Litres a kilogram of grist as milled displaces [L/kg], 0.6-0.85. */
  readonly displacementLKg: number;
  /** Brewhouse air against the kit's usual [K], -20 to 20. */
  readonly airK: number;
  /** Grist temperature against what was read [K]. */
  readonly gristK: number;
  /** What the tun thermometer shows minus the truth [K]. */
  readonly thermometerK: number;
  /** Standard normals for the mash kinetics of this draw; empty for the nominal one. */
  readonly mash: readonly number[];
}

/** The draw with every factor at its likely value. */
export const NOMINAL: Draw = {
  loss: 1,
  surface: 1,
  wall: 1,
  burner: 1,
  transfer: 1,
  dip: 1,
  hands: 1,
  thickness: 1,
  gristKJKgK: 1.72,
  slaking: 1,
  displacementLKg: 0.69,
  airK: 0,
  gristK: 0,
  thermometerK: 0,
  mash: [],
};
