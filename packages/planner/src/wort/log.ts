/** What was read and done after the mash, folded: the newest word on everything. */
import type { KettleReading, LauterReading } from '@ladlework/brewhouse';
import { volumeAtTemperature } from '@ladlework/matter';
import type { WortEntry, WortMove, WortPoint, WortRead } from './plan-types.ts';
import { READ_C, type WortSetup } from './setup.ts';

/** Strength taken for bringing litres to another temperature where none was read; it hardly matters. */
const ROUGH_SHARE = 0.12;

type Read = WortRead & { readonly minute: number };
export type StageReading = KettleReading & { readonly minute: number };

/** One reading of the run-off, litres as the kettle is read at READ_C. */
export interface RunOffReading extends LauterReading {
  readonly minute: number;
  readonly tapPh?: number;
  readonly flowLMin?: number;
  readonly headM?: number;
}

export interface WortLog {
  readonly begun: Partial<Record<WortMove, number>>;
  readonly done: Partial<Record<WortMove, number>>;
  readonly runOff: readonly RunOffReading[];
  readonly kettleFull?: StageReading;
  readonly castOut?: StageReading;
  readonly tank?: StageReading;
  readonly knockOut: readonly Read[];
  readonly chosen?: Extract<WortEntry, { kind: 'chosen' }>;
}

/**
 * Folds the entries of a running day.
 * @param setup the document looked up
 * @param entries in any order
 */
export function wortLog(setup: WortSetup, entries: readonly WortEntry[]): WortLog {
  const sorted = [...entries].sort((a, b) => a.atMin - b.atMin);
  const begun: Partial<Record<WortMove, number>> = {};
  const done: Partial<Record<WortMove, number>> = {};
  const reads: Read[] = [];
  let chosen: WortLog['chosen'];
  for (const entry of sorted) {
    if (entry.kind === 'begun') begun[entry.move] ??= entry.atMin;
    else if (entry.kind === 'done') done[entry.move] ??= entry.atMin;
    else if (entry.kind === 'chosen') chosen = entry;
    else if (entry.kind === 'read') reads.push({ ...entry.read, minute: entry.atMin });
  }
  const of = (point: WortPoint) => reads.filter((r) => r.point === point);
  const stage = (point: WortPoint, usualC: number) => stageReading(of(point), usualC);
  const kettleFull = stage('kettle-full', READ_C);
  const castOut = stage('cast-out', setup.day.boilC - 1);
  const tank = stage('tank', setup.cooler.toC);
  return {
    begun,
    done,
    runOff: sampled(of('run-off').flatMap(runOffReading), begun['run-off']),
    ...(kettleFull === undefined ? {} : { kettleFull }),
    ...(castOut === undefined ? {} : { castOut }),
    ...(tank === undefined ? {} : { tank }),
    knockOut: of('knock-out'),
    ...(chosen === undefined ? {} : { chosen }),
  };
}

function runOffReading(read: Read): RunOffReading[] {
  // A flow or a pH may be read between two dips: it stands with the litres of the dip before.
  const { litres, tempC, plato, tapPlato, tapPh, flowLMin, headM, minute } = read;
  const share = (plato ?? 100 * ROUGH_SHARE) / 100;
  const collectedL =
    litres === undefined ? Number.NaN : volumeAtTemperature(litres, tempC ?? READ_C, READ_C, share);
  return [
    {
      minute,
      collectedL,
      ...(plato === undefined ? {} : { kettlePlato: plato }),
      ...(tapPlato === undefined ? {} : { tapPlato }),
      ...(tapPh === undefined ? {} : { tapPh }),
      ...(flowLMin === undefined ? {} : { flowLMin }),
      ...(headM === undefined ? {} : { headM }),
    },
  ];
}

/** A sample within this of a dip is taken from what the dip measured [min]. Our judgement. */
const SAME_DIP_MIN = 5;

/**
 * Samples that were written down without litres: they belong to the dip just before, or to the litres
 * there are by then at the rate of the run-off so far. A flow needs no litres.
 */
function sampled(reads: readonly RunOffReading[], fromMin: number | undefined): RunOffReading[] {
  const all: RunOffReading[] = [];
  for (const read of reads) {
    const { kettlePlato, tapPlato, tapPh } = read;
    const sample = kettlePlato ?? tapPlato ?? tapPh;
    const at = all.findLastIndex((r) => Number.isFinite(r.collectedL));
    const dip = all[at];
    if (Number.isFinite(read.collectedL) || sample === undefined || dip === undefined) {
      all.push(read);
    } else if (read.minute - dip.minute <= SAME_DIP_MIN) {
      const { minute: _later, collectedL: _none, ...figures } = read;
      all[at] = { ...dip, ...figures };
    } else {
      const since = dip.minute - (fromMin ?? dip.minute);
      const flow = since > 0 ? dip.collectedL / since : 0;
      all.push({ ...read, collectedL: dip.collectedL + flow * (read.minute - dip.minute) });
    }
  }
  return all;
}

/** The newest litres and the newest strength of a stage; undefined until both were read. */
function stageReading(reads: readonly Read[], usualC: number): StageReading | undefined {
  const volume = reads.findLast((r) => r.litres !== undefined);
  const sample = reads.findLast((r) => r.plato !== undefined);
  const acid = reads.findLast((r) => r.ph !== undefined);
  if (volume?.litres === undefined || sample?.plato === undefined) return undefined;
  return {
    litres: volume.litres,
    tC: volume.tempC ?? usualC,
    plato: sample.plato,
    ...(acid?.ph === undefined ? {} : { ph: { ph: acid.ph, tC: acid.phC ?? 20 } }),
    minute: Math.min(volume.minute, sample.minute),
  };
}

/** Run-off readings that hold litres, and those with litres filled in from their time. */
export function dips(log: WortLog): RunOffReading[] {
  return log.runOff.filter((r) => Number.isFinite(r.collectedL));
}

/**
 * Litres in the kettle at a minute, by the dips about it.
 * @param log the day
 * @param minute [min after day start]
 * @param flowLMin flow where the dips give none [L/min as read]
 */
export function collectedAt(log: WortLog, minute: number, flowLMin: number): number {
  const from = log.begun['run-off'];
  const known = [
    ...(from === undefined ? [] : [{ minute: from, collectedL: 0 }]),
    ...dips(log),
  ].sort((a, b) => a.minute - b.minute);
  const before = known.findLast((r) => r.minute <= minute);
  const after = known.find((r) => r.minute > minute);
  if (before === undefined) return 0;
  if (after === undefined) return before.collectedL + flowLMin * (minute - before.minute);
  const part = (minute - before.minute) / (after.minute - before.minute);
  return before.collectedL + part * (after.collectedL - before.collectedL);
}

/** Flow of the run-off as the dips have it [L/min as read]; undefined before there is enough of it. */
export function measuredFlow(log: WortLog): number | undefined {
  const read = log.runOff.findLast((r) => r.flowLMin !== undefined && r.flowLMin > 0);
  const known = dips(log);
  const last = known.at(-1);
  const from = log.begun['run-off'];
  const first = known.length > 1 ? known.at(-2) : undefined;
  const start = first ?? (from === undefined ? undefined : { minute: from, collectedL: 0 });
  if (last !== undefined && start !== undefined && last.minute - start.minute >= 2) {
    const flow = (last.collectedL - start.collectedL) / (last.minute - start.minute);
    if (flow > 0 && (read === undefined || last.minute >= read.minute)) return flow;
  }
  return read?.flowLMin;
}
