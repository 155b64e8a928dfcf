/** What the warmer mash does to wort viscosity, and so to the run-off. */
import type { VesselState } from '@ladlework/brewhouse';
import { relativeRunoffRate, wortViscosity } from '@ladlework/matter';
import type { BrewDay } from './day.ts';
import type { Band, RunOffEffect } from './plan.ts';

/** Strongest wort the viscosity is known for [kg/kg]. @source physics.md 2.5 */
const STRONGEST = 0.4;

/**
 * Run-off at the last rest against running off at the first, same bed and head.
 * @param day the day
 * @param finalC mash at run-off [°C]
 * @param mash what stands in the tun then
 * @returns viscosities and flow factor
 * @source Darcy's law, flow goes as 1/viscosity; physics.md 2.5 and 6
 */
export function runOffEffect(day: BrewDay, finalC: Band, mash: VesselState): RunOffEffect {
  const fromC = (day.document.mash.rests[0] as { tempC: number }).tempC;
  const liquid = mash.waterKg + mash.extractKg;
  // A charge boiled nearly dry has no run-off to speak of; the tables of viscosity end here.
  const w = liquid > 0 ? Math.min(STRONGEST, mash.extractKg / liquid) : 0;
  const at = (tempC: number) => wortViscosity(w, tempC);
  const flow = (toC: number) => relativeRunoffRate({ fromW: w, fromC, toW: w, toC });
  return {
    fromC,
    toC: finalC,
    wortPlato: 100 * w,
    viscosityFromMPas: at(fromC),
    viscosityToMPas: { low: at(finalC.high), likely: at(finalC.likely), high: at(finalC.low) },
    flowFactor: { low: flow(finalC.low), likely: flow(finalC.likely), high: flow(finalC.high) },
  };
}
