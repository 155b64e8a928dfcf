/** A grist in the bags it comes in, and what the rounding does to the beer. */
import { beerFromGrist, type GristLot, inWholeBags } from '@ladlework/brewhouse';
import { brewDay } from '../day.ts';
import type { MaltLot, PlanDocument } from '../document.ts';
import { TYPICAL_WORK, wortLitres } from '../timetable/work.ts';
import { gristColour, potential } from './grist-colour.ts';

export type BagSteps = 'scale' | 'half-bags' | 'bags';

/** What the scale shows [kg]; a lot under one step is weighed out of an opened bag. */
const WEIGHED_KG = 0.01;

export interface BagEffect {
  /** Extract and grist against the exact ones, as shares of them; 0 is no change. */
  readonly extractShare: number;
  readonly gristShare: number;
  /** Strength at the same volume [°P] and volume at the same strength [L]. */
  readonly platoChange: number;
  readonly castOutL: { readonly exact: number; readonly rounded: number };
  /** Malt colour at 12 °P [EBC]; left out when a sheet prints none. */
  readonly colourEbc?: { readonly exact: number; readonly rounded: number };
}

/**
 * Rounds the malts of a brew.
 * @param document with the exact kilograms
 * @param steps whole or half bags for lots with a bag of which at least one step is wanted; or the scale
 * @returns malts with rounded kilograms, and the effect of it
 * @throws OutOfRange when a weight or strength cannot be
 * @source `inWholeBags`: mass balance
 */
export function inBags(
  document: PlanDocument,
  steps: BagSteps,
): { readonly malts: readonly MaltLot[]; readonly effect: BagEffect } {
  const { malts } = document.beer;
  const day = brewDay(document);
  const litres = wortLitres(day.gristKg, day.liquorKg, day.restTun, {
    ...TYPICAL_WORK,
    ...document.day.work,
  });
  const lots = malts.map((m): GristLot => {
    const bag =
      steps === 'scale' || m.bagKg === undefined ? 0 : m.bagKg / (steps === 'bags' ? 1 : 2);
    const moisture = (m.certificate?.moisturePct ?? 4.5) / 100;
    return {
      name: m.name,
      kind: 'malt',
      extractDry: potential(m) / (1 - moisture),
      moisture,
      share: m.kg / day.gristKg,
      stepKg: bag > 0 && m.kg >= bag ? bag : WEIGHED_KG,
    };
  });
  const kg = malts.map((m) => m.kg);
  const laboratoryKg = malts.reduce((sum, m) => sum + m.kg * potential(m), 0);
  // The day's own account of extract, so that litres here are litres there.
  const losses = {
    mashAndLauter: Math.max(0, 1 - litres.extractKg / laboratoryKg),
    kettle: 0,
    transfer: 0,
  };
  const exact = beerFromGrist(lots, kg, litres.castOutL, losses);
  if (steps === 'scale')
    return {
      malts,
      effect: effectOf(malts, kg, exact.gristKg, 0, litres.castOutL, litres.castOutL),
    };
  const bags = inWholeBags(exact, lots, losses);
  const rounded = bags.grist.lots.map((l) => l.kg);
  return {
    malts: malts.map((m, i) => ({ ...m, kg: rounded[i] as number })),
    effect: effectOf(
      malts,
      rounded,
      bags.grist.gristKg,
      bags.platoChange,
      litres.castOutL,
      bags.tankLAtTarget,
    ),
  };
}

function effectOf(
  malts: readonly MaltLot[],
  rounded: readonly number[],
  gristKg: number,
  platoChange: number,
  exactL: number,
  roundedL: number,
): BagEffect {
  const kg = malts.map((m) => m.kg);
  const sum = (of: readonly number[]) => of.reduce((total, x) => total + x, 0);
  const extract = (of: readonly number[]) =>
    sum(malts.map((m, i) => potential(m) * (of[i] as number)));
  const share = extract(rounded) / extract(kg) - 1;
  const printed = malts.every((m) => m.certificate?.colourEbc !== undefined);
  return {
    extractShare: share,
    gristShare: gristKg / sum(kg) - 1,
    platoChange,
    castOutL: { exact: exactL, rounded: roundedL },
    // At the same strength: what extract is won is made more wort.
    ...(printed
      ? {
          colourEbc: {
            exact: gristColour(malts, kg, extract(kg)),
            rounded: gristColour(malts, rounded, extract(rounded)),
          },
        }
      : {}),
  };
}
