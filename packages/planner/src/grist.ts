/** The grist of a beer as the mash kinetics want it, likely or drawn from what is not known of it. */
import {
  addedMaltFromCertificate,
  type Draw,
  drawMalt,
  drawMashParameters,
  ENSEMBLE_MASH,
  EXACT_MASH,
  GristEngine,
  type GristPart,
  type MaltCertificate as KineticCertificate,
  MASH_PARAMETER_SETS,
  type Malt,
  type MaltSpread,
  type MashParameters,
  MashWorkspace,
  maltFromCertificate,
} from '@ladlework/brewhouse';
import type { Beer, MaltCertificate, MaltLot } from './document.ts';

/** Roast malt: what of its extract ferments; our judgement, a little under dextrin malt's 0.35. */
const ROAST_FERMENTABLE = 0.3;
const CARAMEL_FERMENTABLE = 0.35;

/** A malt with how well it is known; added malts have no spread of their own. */
export interface KnownMalt {
  readonly malt: Malt;
  readonly massKg: number;
  readonly spread?: MaltSpread;
}

/**
 * The printed certificate in the fractions the kinetics use.
 * @param printed percentages as on the maltster's sheet
 */
export function kineticCertificate(printed: MaltCertificate): KineticCertificate {
  const share = (pct: number | undefined) => (pct === undefined ? undefined : pct / 100);
  const difference =
    printed.extractFinePct !== undefined && printed.extractCoarsePct !== undefined
      ? (printed.extractFinePct - printed.extractCoarsePct) / 100
      : undefined;
  const all = {
    moisture: share(printed.moisturePct),
    extractFine: share(printed.extractFinePct),
    fineCoarse: difference,
    colourEbc: printed.colourEbc,
    protein: share(printed.proteinPct),
    kolbachPct: printed.kolbachPct,
    diastaticWK: printed.diastaticWk,
    alphaDU: printed.alphaDu,
    viscosityMPas: printed.viscosityMPas,
    friabilityPct: printed.friabilityPct,
    betaGlucanMgL: printed.betaGlucanMgL,
    vz45Pct: printed.vz45Pct,
    fanMgL: printed.fanMgL,
  };
  return Object.fromEntries(Object.entries(all).filter(([, v]) => v !== undefined));
}

/**
 * One lot with how well it is known.
 * @param lot the lot; certificate figures that are missing take a typical malt's and widen the doubt
 * @throws MashRangeError when a certificate figure cannot be
 * @source docs/science/mash.md, Start from a malt sheet
 */
export function knownMalt(lot: MaltLot): KnownMalt {
  const certificate = kineticCertificate(lot.certificate ?? {});
  if (lot.type === 'caramel' || lot.type === 'roast') {
    const ferments = lot.type === 'roast' ? ROAST_FERMENTABLE : CARAMEL_FERMENTABLE;
    return { malt: addedMaltFromCertificate(certificate, ferments), massKg: lot.kg };
  }
  const { malt, spread } = maltFromCertificate(certificate);
  return { malt, massKg: lot.kg, spread };
}

/** The likely grist of a beer. */
export function gristOf(beer: Beer): GristPart[] {
  return beer.malts.map(knownMalt);
}

/** The parameter set a beer asks for: the recommended one unless it names the plain one. */
export function parametersOf(beer: Beer): MashParameters {
  return MASH_PARAMETER_SETS[beer.kinetics?.parameters ?? 'recommended'];
}

/**
 * Mash engines for a beer: exact for the likely draw, quick for the ensemble's.
 * @param beer grist, kinetic options and parameter set
 * @returns a function from draw to engine; engines of one thread share their scratch
 */
export function mashEngines(beer: Beer): (draw: Draw) => GristEngine {
  const workspace = new MashWorkspace();
  const known = beer.malts.map(knownMalt);
  const base = parametersOf(beer);
  const { parameters: _set, ...options } = beer.kinetics ?? {};
  return (draw) => {
    const likely = draw.mash.length === 0;
    const parts = known.map(({ malt, massKg, spread }) => ({
      massKg,
      malt: malt.kind === 'mashed' && spread ? drawMalt(malt, spread, draw.mash) : malt,
    }));
    return new GristEngine(parts, drawMashParameters(base, draw.mash), {
      tolerance: likely ? EXACT_MASH : ENSEMBLE_MASH,
      workspace,
      options,
    });
  };
}
