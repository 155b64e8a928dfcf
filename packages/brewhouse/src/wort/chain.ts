/**
 * From the mash in the tun to the wort in the tank, one stage carrying the next, over an ensemble. What
 * is read at a stage replaces what was foretold there, and everything after is foretold from it.
 */
import {
  beerFromExtracts,
  ebcFromSrm,
  inRange,
  maltColourUnits,
  OutOfRange,
  srmFromColourUnits,
  wortCp,
} from '@ladlework/matter';
import { type Band, band } from '@ladlework/numerics';
import { COLD_C, litresAt, platoOf, shareOf, type WortBody } from './body.ts';
import { type BoilKettle, type BoilRun, boil, KETTLE_DEFAULTS } from './boil.ts';
import { bedOfDraw, type ChainDraw } from './chain-draws.ts';
import type {
  MashWort,
  WortChain,
  WortChainInput,
  WortStage,
  WortStageName,
} from './chain-types.ts';
import type { HotStay } from './hops.ts';
import { type KettleReading, whatStands } from './kettle.ts';
import { coilRun, plateRun } from './knock-out.ts';
import { forecastRunOff } from './lauter-forecast.ts';

/** Error of a cooled sample of mixed wort [°P, 1 sd] (judgement). */
const SAMPLE_SD = 0.1;
/** The colour law was fitted to beers boiled about this long; only what goes beyond is added. */
const COLOUR_LAW_BOIL_MIN = 60;

/** What cooling comes to, whichever way. */
interface Cooling {
  readonly wortLMin: number;
  readonly minutes: number;
  readonly outC: number;
  readonly liquorL: number;
  readonly reached: boolean;
  readonly leftKWh: number;
  /** What the wort, on average, goes through while it waits for the cold [°C, min]. */
  readonly waiting: readonly HotStay[];
}

/** One draw all the way. */
interface Way {
  readonly mash: MashWort;
  readonly kettle: WortBody;
  readonly kettleMin: number;
  readonly run: BoilRun;
  readonly castOut: WortBody;
  readonly castOutMin: number;
  readonly toCooler: WortBody;
  readonly ibu: number;
  readonly colour: number | undefined;
  readonly dms: { readonly free: number; readonly precursor: number } | undefined;
  readonly tank: WortBody;
  readonly tankMin: number;
  readonly cooling: Cooling;
}

/**
 * Carries a mash through run-off, boil and knock-out into the tank.
 *
 * @param input ranges at its fields; one mash or as many as draws
 * @returns stages with bands of 80 %, the run-off, the boil and the knock-out
 * @throws OutOfRange outside the ranges of any stage
 * @source `runOff`, `boil`, `plateRun`; nothing is reckoned here but what passes between them
 */
export function wortChain(input: WortChainInput): WortChain {
  const { draws, read = {} } = input;
  const n = inRange('number of draws', draws.length, 1, 1e5, '');
  if (input.mash.length !== 1) inRange('number of mashes', input.mash.length, n, n, '');
  const mashOf = (i: number) => input.mash[input.mash.length === 1 ? 0 : i] as MashWort;
  const bedOf = (draw: ChainDraw, i: number) =>
    bedOfDraw(draw, { gristKg: input.gristKg, mash: mashOf(i), ...input.tun });
  const lauter = forecastRunOff(
    draws.map((draw, i) => ({ bed: bedOf(draw, i), dip: draw.dip })),
    input.lauter,
    read.lauter ?? [],
  );
  const notes: string[] = [];
  const note = (text: string) => {
    if (!notes.includes(text)) notes.push(text);
  };
  const ways = draws.map((draw, i) =>
    wayOf(input, draw, mashOf(i), lauter.kettles[i] as WortBody, note),
  );
  // A reading of the full kettle says what the run-off readings could only hint at.
  const informed = read.kettleFull === undefined && (read.lauter ?? []).length > 0;
  const weights = informed ? lauter.weights : undefined;
  const b = (of: (way: Way) => number): Band => band(ways.map(of), weights);
  const when = <T>(of: (way: Way) => T | undefined, value: (found: T) => number) =>
    ways.every((way) => of(way) !== undefined) ? b((way) => value(of(way) as T)) : undefined;
  const some = <K extends string>(key: K, value: Band | undefined) =>
    (value === undefined ? {} : { [key]: value }) as { readonly [P in K]?: Band };
  const stage = (
    name: WortStageName,
    measured: boolean,
    of: (way: Way) => WortBody,
    before: (way: Way) => WortBody,
    endMin: (way: Way) => number,
  ): WortStage => ({
    stage: name,
    measured,
    coldL: b((way) => litresAt(of(way), COLD_C)),
    plato: b((way) => platoOf(of(way))),
    extractKg: b((way) => of(way).extractKg),
    waterKg: b((way) => of(way).waterKg),
    lostKg: b((way) => before(way).extractKg - of(way).extractKg),
    endMin: b(endMin),
    ...(name === 'kettle-full'
      ? {}
      : {
          ibu: b((way) => way.ibu),
          ...some(
            'colourEbc',
            when(
              (way) => way.colour,
              (c) => c,
            ),
          ),
          ...some(
            'freeDmsUgL',
            when(
              (way) => way.dms,
              (d) => d.free,
            ),
          ),
          ...some(
            'precursorUgL',
            when(
              (way) => way.dms,
              (d) => d.precursor,
            ),
          ),
        }),
  });
  const into = input.boil.extractKg ?? 0;
  const endOf = (way: Way) =>
    way.mash.limitApparentPct === undefined
      ? undefined
      : platoOf(way.tank) * (1 - way.mash.limitApparentPct / 100);
  const endPlato = when(endOf, (plato) => plato);
  const beer =
    endPlato === undefined
      ? undefined
      : { endPlato, abvPct: b((w) => beerFromExtracts(platoOf(w.tank), endOf(w) ?? 0).abvPct) };
  if (into > 0 && beer !== undefined)
    note('The limit of attenuation is that of the mash; sugar into the kettle takes it further.');
  const share = (of: (way: Way) => boolean) =>
    ways.reduce((sum, way, i) => sum + (of(way) ? (weights?.[i] ?? 1 / n) : 0), 0);
  return {
    stages: [
      stage(
        'kettle-full',
        read.kettleFull !== undefined,
        (w) => w.kettle,
        (w) => w.mash,
        (w) => w.kettleMin,
      ),
      stage(
        'cast-out',
        read.castOut !== undefined,
        (w) => w.castOut,
        (w) => ({ ...w.kettle, extractKg: w.kettle.extractKg + into }),
        (w) => w.castOutMin,
      ),
      stage(
        'knock-out',
        false,
        (w) => w.toCooler,
        (w) => w.castOut,
        (w) => w.tankMin,
      ),
      stage(
        'tank',
        read.tank !== undefined,
        (w) => w.tank,
        (w) => w.toCooler,
        (w) => w.tankMin,
      ),
    ],
    lauter,
    boil: {
      boilC: b((w) => w.run.boilC),
      hops: input.boil.hops.map(({ name }, i) => ({
        name,
        ibu: b((w) => w.run.hops.additions[i]?.ibu ?? 0),
        otherIbu: b((w) => w.run.hops.additions[i]?.otherIbu ?? 0),
      })),
      heatUpMin: b((w) => w.run.heatUpMin),
      evaporationKgH: b((w) => w.run.evaporationKgH),
      headspace: b((w) => w.run.headspace),
      boilOverShare: share((w) => w.run.foam === 'will-boil-over'),
    },
    knockOut: {
      wortLMin: b((w) => w.cooling.wortLMin),
      minutes: b((w) => w.cooling.minutes),
      outC: b((w) => w.cooling.outC),
      liquorL: b((w) => w.cooling.liquorL),
      reachedShare: share((w) => w.cooling.reached),
      leftKWh: b((w) => w.cooling.leftKWh),
    },
    ...(beer === undefined ? {} : { beer }),
    notes,
  };
}

/** A reading as one draw takes it: its own error on volume and sample. */
function readBody(reading: KettleReading, draw: ChainDraw, sample: number): WortBody {
  const litres = reading.litres * draw.dip;
  return whatStands({ ...reading, litres, plato: Math.max(0, reading.plato + SAMPLE_SD * sample) })
    .wort;
}

function wayOf(
  input: WortChainInput,
  draw: ChainDraw,
  mash: MashWort,
  foretold: WortBody,
  note: (text: string) => void,
): Way {
  const { read = {}, lauter } = input;
  const kettle =
    read.kettleFull === undefined ? foretold : readBody(read.kettleFull, draw, draw.sample[0]);
  const kettleMin =
    read.kettleFull?.minute ??
    lauter.fromMin +
      (lauter.fillsL === undefined ? lauter.kettleL : litresAt(foretold, lauter.readC)) /
        (inRange('flow of the run-off', lauter.flowLMin, 0.01, 1e4, 'L/min') * draw.flow);
  const wort = {
    extractKg: kettle.extractKg + (input.boil.extractKg ?? 0),
    waterKg: kettle.waterKg + (input.boil.waterKg ?? 0),
  };
  const recovered = kettle.extractKg / mash.extractKg;
  const precursor = precursorOf(input, draw, mash, recovered, litresAt(wort, COLD_C));
  const boiler: BoilKettle = {
    ...input.kettle,
    netKW: input.kettle.netKW * draw.netKW,
    trubShare: Math.min(0.2, input.kettle.trubShare * draw.trub),
  };
  const factor = input.boil.hopFactor ?? { kettle: 1, stand: 1 };
  const boilWith = (stand: readonly HotStay[]) =>
    boil(boiler, {
      wort,
      startC: input.boil.startC,
      startMin: kettleMin,
      ...heatUp(input, kettleMin),
      minutes: input.boil.minutes,
      hops: input.boil.hops,
      hopFactor: { kettle: factor.kettle * draw.hops, stand: factor.stand * draw.hops },
      stand,
      ...(input.boil.ph === undefined ? {} : { ph: input.boil.ph }),
      ...(precursor === undefined ? {} : { precursorUgL: precursor }),
    });
  const first = boilWith(input.boil.stand);
  const castOut =
    read.castOut === undefined ? first.castOut : readBody(read.castOut, draw, draw.sample[1]);
  const toCooler = shareOf(castOut, first.toCooler.extractKg / first.castOut.extractKg);
  const cooling = cool(input, draw, toCooler);
  const run = boilWith([...input.boil.stand, ...cooling.waiting]);
  const stronger = run.coldL / litresAt(castOut, COLD_C);
  const loss = inRange('share lost on the way to the tank', input.cooler.lossShare, 0, 0.3, '');
  const castOutMin = read.castOut?.minute ?? run.endMin;
  const standMin = input.boil.stand.reduce((sum, s) => sum + s.minutes, 0);
  return {
    mash,
    kettle,
    kettleMin,
    run,
    castOut,
    castOutMin,
    toCooler,
    ibu: run.hops.ibu * stronger,
    colour: colourOf(input, draw, mash, recovered, castOut, note),
    dms:
      run.dms === undefined
        ? undefined
        : { free: run.dms.freeUgL * stronger, precursor: run.dms.precursorUgL * stronger },
    tank:
      read.tank === undefined
        ? shareOf(toCooler, 1 - Math.min(0.3, loss * draw.transfer))
        : readBody(read.tank, draw, draw.sample[2]),
    tankMin: read.tank?.minute ?? castOutMin + standMin + cooling.minutes,
    cooling,
  };
}

/** Time to the boil: seen, or as the kit's simulation gave it, or left to the net power. */
function heatUp(input: WortChainInput, kettleMin: number): { readonly heatUpMin?: number } {
  const begun = input.read?.boilBegunMin;
  if (begun !== undefined) return { heatUpMin: Math.max(0, begun - kettleMin) };
  return input.boil.heatUpMin === undefined ? {} : { heatUpMin: input.boil.heatUpMin };
}

function cool(input: WortChainInput, draw: ChainDraw, body: WortBody): Cooling {
  const { cooler } = input;
  const uaWK = cooler.uaWK * draw.cooler;
  if (cooler.how === 'plate') {
    const run = plateRun({ ...cooler, uaWK }, { body, fromC: cooler.fromC, toC: cooler.toC });
    // On its way through the cooler wort is cold at once; the rest of it waits, half the time on average.
    return { ...run, waiting: [{ tC: cooler.fromC, minutes: run.minutes / 2 }] };
  }
  const run = coilRun({ ...cooler, uaWK, body, kettleKJK: input.kettle.wallKJK });
  const mass = body.extractKg + body.waterKg;
  const over = run.outC - cooler.toC;
  return {
    ...run,
    wortLMin: litresAt(body, COLD_C) / run.minutes,
    leftKWh: run.reached ? 0 : (mass * wortCp(platoOf(body) / 100, run.outC) * over) / 3600,
    waiting: run.course,
  };
}

/** Precursor in the cold wort of the full kettle [µg/L]. */
function precursorOf(
  input: WortChainInput,
  draw: ChainDraw,
  mash: MashWort,
  recovered: number,
  coldL: number,
): number | undefined {
  if (input.precursorMgKg === undefined) return undefined;
  const mgKg = inRange('DMS precursor of the grist', input.precursorMgKg, 0, 30, 'mg/kg');
  return (
    (1000 * mgKg * draw.precursor * input.gristKg * mash.precursorLeft * Math.min(1, recovered)) /
    coldL
  );
}

/** Colour of the beer [EBC]: grist by the colour law, what the mash's heat made, and a long boil. */
function colourOf(
  input: WortChainInput,
  draw: ChainDraw,
  mash: MashWort,
  recovered: number,
  castOut: WortBody,
  note: (text: string) => void,
): number | undefined {
  if (input.malts === undefined) return undefined;
  const coldL = litresAt(castOut, COLD_C);
  let srm: number;
  try {
    srm = srmFromColourUnits(maltColourUnits(input.malts, coldL));
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error;
    note('The grist is darker than the colour law reaches (50 SRM): no colour is given.');
    return undefined;
  }
  const ofMash = (mash.colourEbc * litresAt(mash, COLD_C) * Math.min(1, recovered)) / coldL;
  const hot =
    input.boil.minutes -
    COLOUR_LAW_BOIL_MIN +
    input.boil.stand.reduce((sum, s) => sum + (s.tC > 90 ? s.minutes : 0), 0);
  const ofBoil = (KETTLE_DEFAULTS.pickUpEbcH.likely * hot) / 60;
  return Math.max(0, ebcFromSrm(srm) * draw.colour + ofMash + ofBoil);
}
