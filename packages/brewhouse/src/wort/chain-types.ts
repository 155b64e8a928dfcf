/** What the wort chain is told and answers. */
import type { ColouredMalt } from '@ladlework/matter';
import type { Band } from '@ladlework/numerics';
import type { MashResults } from '../mash/index.ts';
import type { WortBody } from './body.ts';
import type { BoilKettle } from './boil.ts';
import type { ChainDraw } from './chain-draws.ts';
import type { HopAddition, HotStay } from './hops.ts';
import type { KettleReading } from './kettle.ts';
import type { PlateCooler } from './knock-out.ts';
import type { LauterForecast, LauterIntent, LauterReading } from './lauter-forecast.ts';

/** What the mash hands over. */
export interface MashWort extends WortBody {
  /** Colour made by heat in the mash, decoctions and all [EBC in the mash wort]. */
  readonly colourEbc: number;
  /** Share of the DMS precursor of the malt still there [-]. */
  readonly precursorLeft: number;
  /** Apparent limit of attenuation [%]; left out: no beer is foretold. */
  readonly limitApparentPct?: number;
}

/**
 * What the mash engine's results hand over to the lauter tun.
 *
 * @param results of the whole mash, all vessels together
 * @returns wort of the mash
 * @source water and extract as they stand at the end of the mash
 */
export function mashWort(results: MashResults): MashWort {
  return {
    extractKg: results.extractKg,
    waterKg: results.waterKg,
    colourEbc: results.colourEbc,
    precursorLeft: results.smmLeft,
    limitApparentPct: results.limitApparentPct,
  };
}

export interface WortChainInput {
  /** One mash for all draws, or one a draw, as the mash ensemble gave them. */
  readonly mash: readonly MashWort[];
  readonly draws: readonly ChainDraw[];
  readonly gristKg: number;
  /** Malts with their colour, for the beer's; left out: no colour. */
  readonly malts?: readonly ColouredMalt[];
  /** DMS precursor of the grist, as DMS [mg/kg], 0 to 30; left out: no DMS. Lager malt 3 to 7 (from memory). */
  readonly precursorMgKg?: number;
  readonly tun: { readonly tC: number; readonly underL: number; readonly deadL: number };
  readonly lauter: LauterIntent & {
    /** Minute of the day at which the tap opens, and the flow [L/min as read]. */
    readonly fromMin: number;
    readonly flowLMin: number;
  };
  readonly kettle: BoilKettle;
  readonly boil: {
    readonly startC: number;
    /** Minutes from the full kettle to the boil, where the kit's simulation gave them. */
    readonly heatUpMin?: number;
    readonly minutes: number;
    readonly hops: readonly HopAddition[];
    readonly hopFactor?: { readonly kettle: number; readonly stand: number };
    readonly stand: readonly HotStay[];
    readonly ph?: number;
    /** Sugar or malt extract still to go into the kettle [kg of extract], not in any reading yet. */
    readonly extractKg?: number;
    /** Water still to go in with it or by itself [kg]. */
    readonly waterKg?: number;
  };
  readonly cooler: (
    | ({ readonly how: 'plate' } & PlateCooler)
    | {
        readonly how: 'coil';
        readonly uaWK: number;
        readonly liquorLMin: number;
        readonly liquorInC: number;
      }
  ) & {
    readonly toC: number;
    /** Wort when the cooling begins [°C]. */
    readonly fromC: number;
    /** Left in hoses, cooler and with the cold trub, as share [-], 0 to 0.3. */
    readonly lossShare: number;
  };
  readonly read?: {
    readonly lauter?: readonly LauterReading[];
    readonly kettleFull?: KettleReading & { readonly minute: number };
    /** Minute of the day at which it came to the boil. */
    readonly boilBegunMin?: number;
    readonly castOut?: KettleReading & { readonly minute: number };
    readonly tank?: KettleReading & { readonly minute: number };
  };
}

export type WortStageName = 'kettle-full' | 'cast-out' | 'knock-out' | 'tank';

/** One stage of the way. Everything is what stands there at its end; concentrations in cold wort. */
export interface WortStage {
  readonly stage: WortStageName;
  /** True when it was read, not foretold. */
  readonly measured: boolean;
  readonly coldL: Band;
  readonly plato: Band;
  readonly extractKg: Band;
  readonly waterKg: Band;
  /** Extract that stayed behind since the stage before; at the kettle, since the mash. */
  readonly lostKg: Band;
  readonly endMin: Band;
  readonly ibu?: Band;
  readonly colourEbc?: Band;
  readonly freeDmsUgL?: Band;
  readonly precursorUgL?: Band;
}

export interface WortChain {
  readonly stages: readonly WortStage[];
  readonly lauter: LauterForecast;
  readonly boil: {
    readonly boilC: Band;
    /** Bitterness of each addition in the wort of the boil [mg/L], in their order. */
    readonly hops: readonly {
      readonly name: string;
      readonly ibu: Band;
      readonly otherIbu: Band;
    }[];
    readonly heatUpMin: Band;
    readonly evaporationKgH: Band;
    readonly headspace: Band;
    /** Share of the draws that go over the brim [-]. */
    readonly boilOverShare: number;
  };
  readonly knockOut: {
    readonly wortLMin: Band;
    readonly minutes: Band;
    readonly outC: Band;
    readonly liquorL: Band;
    /** Share of the draws in which today's liquor reaches the temperature [-]. */
    readonly reachedShare: number;
    readonly leftKWh: Band;
  };
  /** The beer this wort can become at its limit of attenuation; a plan figure, not a label's. */
  readonly beer?: { readonly endPlato: Band; readonly abvPct: Band };
  /** What could not be reckoned, in words for the brewer. */
  readonly notes: readonly string[];
}
