/** The beer wanted against what comes, wish by wish. */
import type { WortChain, WortStageName } from '@ladlework/brewhouse';
import type { Band } from '../plan.ts';
import { platoWanted } from './chain-of.ts';
import type { GristPlan, LiquorPlan, MashOutcome, WishLine } from './plan-types.ts';
import type { WortSetup } from './setup.ts';

/** A salt miss within this is met [mg/L]; the report itself is no surer. Our judgement. */
const ION_MET_MG_L = 5;

/** What the wishes are held against. */
export interface Outcome {
  readonly chain: Pick<WortChain, 'stages'>;
  readonly mash: MashOutcome;
  readonly attenuation?: Band;
  readonly grist?: GristPlan;
  readonly liquor?: LiquorPlan;
  /** Kilograms of hops for the bitterness wished. */
  readonly hopsKg?: readonly number[];
}

/**
 * The wishes of a beer against what comes.
 * @param setup the document looked up
 * @param outcome what comes
 * @returns in the order of the day; a wish that nobody made is left out
 */
export function wishesOf(setup: WortSetup, outcome: Outcome): WishLine[] {
  const target = setup.document.beer.target;
  if (target === undefined) return [];
  const lines: WishLine[] = [];
  const stage = (name: WortStageName) => outcome.chain.stages.find((s) => s.stage === name);
  const add = (
    what: WishLine['what'],
    unit: string,
    wanted: number | undefined,
    got: Band | undefined,
    mend?: string,
  ) => {
    if (wanted === undefined || got === undefined) return;
    const met = wanted >= got.low && wanted <= got.high;
    lines.push({ what, unit, wanted, got, met, ...(met || mend === undefined ? {} : { mend }) });
  };
  liquorWish(outcome.liquor, lines);
  add('mash-ph', 'pH', target.mashPh, outcome.liquor?.mashPh.ph);
  add('tank-litres', 'L', target.tankL, stage('tank')?.coldL);
  add('extract', '°P', platoWanted(setup), stage('tank')?.plato, gristMend(outcome.grist));
  add('bitterness', 'mg/L', target.ibu, stage('cast-out')?.ibu, hopMend(setup, outcome.hopsKg));
  add('colour', 'EBC', target.colourEbc, stage('tank')?.colourEbc);
  add('attenuation', '%', target.attenuationPct, outcome.attenuation);
  return lines;
}

function gristMend(grist: GristPlan | undefined): string | undefined {
  if (grist?.wanted === undefined) return undefined;
  const kg = grist.wanted.kg.reduce((sum, x) => sum + x, 0);
  return `Grist ${kg.toFixed(1)} kg instead of ${grist.gristKg.toFixed(1)} kg, in the same shares.`;
}

function hopMend(setup: WortSetup, kg: readonly number[] | undefined): string | undefined {
  if (kg === undefined) return undefined;
  const now = setup.hops.reduce((sum, h) => sum + h.grams, 0) / 1000;
  const then = kg.reduce((sum, x) => sum + x, 0);
  return `Hops ${then.toFixed(2)} kg instead of ${now.toFixed(2)} kg, in the same shares.`;
}

/** The ion that misses most. */
function liquorWish(liquor: LiquorPlan | undefined, lines: WishLine[]): void {
  const worst = liquor?.salts.misses.reduce<LiquorPlan['salts']['misses'][number] | undefined>(
    (a, b) => (a === undefined || Math.abs(b.mgL) > Math.abs(a.mgL) ? b : a),
    undefined,
  );
  if (worst === undefined || liquor === undefined) return;
  const got = liquor.salts.after[worst.field] ?? 0;
  const met = Math.abs(worst.mgL) <= ION_MET_MG_L;
  lines.push({
    what: 'liquor',
    unit: 'mg/L',
    wanted: got - worst.mgL,
    got: { low: got, likely: got, high: got },
    met,
    ...(met
      ? {}
      : {
          mend:
            worst.mgL > 0
              ? 'Softer liquor mixed in: salts take nothing out.'
              : 'Another salt on the shelf, or more of it a litre.',
        }),
  });
}
