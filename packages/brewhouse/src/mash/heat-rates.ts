import type { CompiledMash } from './compile.ts';

const KELVIN = 273.15;

/**
 * Everything in the rate equations that depends on temperature alone, kept until it changes: at a
 * rest it is reckoned once. Rates in 1/min.
 */
export class HeatRates {
  T = Number.NaN;
  /** Opening of starch, catalysis against 65 °C, dissolution. */
  kg = 0;
  f = 0;
  kd = 0;
  /** Loss of alpha, of labile beta before protection by sugar, of limit dextrinase. */
  ka = 0;
  kb0 = 0;
  kl = 0;
  /** Colour [EBC/min at 12 % extract]. */
  colour0 = 0;
  /** Transport in coarse pieces, and opening and dissolution behind it. */
  kc = 0;
  kgc = 0;
  kdc = 0;
  /** Bound limit dextrinase: release and loss; loss of alpha-glucosidase. */
  krel = 0;
  klb = 0;
  kdg = 0;
  /** Exponent of the opening sigmoid, without the part extract moves; open and resistant bins. */
  opener = 0;
  openOpen = 1;
  openResistant = 0;

  /** Forgets the temperature, for a new parameter set or vessel. */
  reset(): void {
    this.T = Number.NaN;
  }

  warm(T: number, c: CompiledMash, extended: boolean, colouring: boolean): void {
    if (T === this.T) return;
    this.T = T;
    const p = c.parameters;
    const x = 1 / (T + KELVIN) - c.inverseRef;
    this.kg = p.kg65 * Math.exp(-c.thetaOpen * x);
    this.f = Math.exp(-c.thetaAct * x);
    this.kd = p.kdis * Math.exp(-c.thetaDissolve * x);
    this.ka = p.kda65 * Math.exp(-c.thetaAlpha * x);
    this.kb0 = p.kdb65 * Math.exp(-c.thetaBeta * x);
    this.kl = p.kdl65 * Math.exp(-c.thetaLimit * x);
    // Constant part of the sigmoid's exponent; the part moved by extract is added in the rates.
    this.opener = (p.mu - p.sG * p.X0 - T) / p.width;
    const above = (T - p.Tfd) / p.width;
    this.openOpen = above > 40 ? 1 : 1 / (1 + Math.exp(-above));
    this.colour0 = colouring
      ? p.kcol100 * Math.exp(-c.thetaColour * (1 / (T + KELVIN) - 1 / 373.15))
      : 0;
    if (extended) {
      const kc = p.kc * Math.exp(-c.thetaCoarse * x);
      this.kc = kc;
      this.kgc = (this.kg * kc) / (this.kg + kc);
      this.kdc = (this.kd * kc) / (this.kd + kc);
      this.krel = p.krel * Math.exp(-c.thetaRelease * x);
      this.klb = p.klb * Math.exp(-c.thetaBound * x);
      this.kdg = p.kdg * Math.exp(-c.thetaGlucosidase * x);
      this.openResistant = 1 / (1 + Math.exp((p.Tfr - T) / p.width));
    }
  }
}
