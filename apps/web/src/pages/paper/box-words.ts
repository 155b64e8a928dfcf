/** A box of the paper sheet in the brewer's words: what it is for, and what is to be typed. Pure. */
import { type Kit, nameIn } from '@ladlework/brewhouse';
import { type BrewState, type SheetBox, sheetVolumeL, type WortFigure } from '@ladlework/log';
import { entryUnit, formatBand, formatClock, type UnitPair } from '@ladlework/quantity';
import { summaryText } from '../../day/standing.ts';

export interface PaperBrew {
  readonly brew: BrewState;
  readonly kit: Kit;
  /** Clock time of minute 0, minutes after midnight. */
  readonly startMin: number;
  readonly pair: UnitPair;
}

/** One figure to be typed for a box. */
export interface PaperField {
  readonly name: string;
  /** `yes-no`: iodine, blue or not. */
  readonly as: 'number' | 'clock' | 'date' | 'text' | 'yes-no';
  readonly unit: string;
}

/** The box in the brewer's words: which vessel, what is read, what was planned. */
export function boxSaid(box: SheetBox, { brew, kit, startMin, pair }: PaperBrew): string {
  const { entry, planned } = box;
  const moveId = 'moveId' in entry ? entry.moveId : undefined;
  const move = brew.planSummary?.moves.find((m) => m.id === moveId);
  const said = move === undefined ? box.text : summaryText(move, brew);
  const clock = (b: { low: number; high: number }) => {
    const [low, high] = [formatClock(startMin + b.low), formatClock(startMin + b.high)];
    return low === high ? low : `${low} to ${high}`;
  };
  switch (entry.as) {
    case 'start':
      return `Day begins, planned ${formatClock(startMin)}`;
    case 'begun':
    case 'done':
      return `${said}: ${entry.as}${planned === undefined ? '' : `, planned ${clock(planned)}`}`;
    case 'portions':
      return `${said}: portions carried`;
    case 'reading': {
      const what = {
        temp: 'temperature',
        ph: 'pH',
        iodine: 'iodine test',
        gravity: 'gravity',
        volume: 'volume',
      };
      const expected =
        planned === undefined ? '' : `, planned ${formatBand('temperature', planned, pair)}`;
      return `${nameIn(kit, entry.vessel)} ${what[entry.what]}, ${said}${expected}`;
    }
    case 'gate':
      return `Tick: ${box.text}`;
    case 'wort':
      return `${box.text}: wort`;
    case 'note':
      return 'Note';
  }
}

export const FIGURE: Readonly<Record<WortFigure, string>> = {
  tapPlato: 'extract at the tap',
  litres: 'litres',
  tempC: 'at',
  plato: 'extract',
};

/** What has to be typed for a box, the clock of the paper last. */
export function fieldsOf(box: SheetBox, { brew, pair }: PaperBrew): PaperField[] {
  const clock: PaperField = { name: 'clock on paper', as: 'clock', unit: '' };
  const { entry } = box;
  switch (entry.as) {
    case 'start':
      return [{ name: 'date', as: 'date', unit: '' }, clock];
    case 'begun':
    case 'done':
    case 'gate':
      return [clock];
    case 'portions':
      return [{ name: 'portions', as: 'number', unit: '' }, clock];
    case 'reading':
      if (entry.what === 'iodine') return [{ name: 'blue?', as: 'yes-no', unit: '' }, clock];
      return [
        {
          name: 'value',
          as: 'number',
          unit: entry.what === 'temp' ? entryUnit('temperature', pair) : 'pH',
        },
        clock,
      ];
    case 'wort':
      return [
        ...entry.figures.map(
          (f): PaperField => ({
            name: FIGURE[f],
            as: 'number',
            unit:
              f === 'litres'
                ? volumeUnit(brew, pair)
                : f === 'tempC'
                  ? entryUnit('temperature', pair)
                  : pair.extract === 'sg'
                    ? 'SG'
                    : '°P',
          }),
        ),
        clock,
      ];
    case 'note':
      return [{ name: 'note', as: 'text', unit: '' }, clock];
  }
}

export function volumeUnit(brew: BrewState, pair: UnitPair): string {
  const near = brew.planSummary === undefined ? undefined : sheetVolumeL(brew.planSummary);
  return entryUnit('volume', pair, near);
}

/** The clock a box is likely to have: by what was written of its move, else as planned. */
export function likelyClock(box: SheetBox, { brew, startMin }: PaperBrew): string {
  const began = startOf(brew, startMin);
  const start = brew.startedAtMs;
  const moveId = 'moveId' in box.entry ? box.entry.moveId : undefined;
  const state = brew.moves.find((m) => m.moveId === moveId);
  const plan = brew.planSummary?.moves.find((m) => m.id === moveId);
  if (start === undefined || state === undefined || plan === undefined)
    return formatClock(began + box.atMin);
  const minute = (ms: number) => Math.round((ms - start) / 60_000);
  const { begunAtMs, doneAtMs } = state;
  if (box.entry.as === 'begun')
    return formatClock(began + (begunAtMs === undefined ? box.atMin : minute(begunAtMs)));
  if (doneAtMs !== undefined) return formatClock(began + minute(doneAtMs));
  // It ends as long after its real beginning as the plan has it.
  const longMin = plan.endMin.likely - plan.startMin.likely;
  return formatClock(began + (begunAtMs === undefined ? box.atMin : minute(begunAtMs) + longMin));
}

/** Clock time at which the day really began [min after midnight]. */
export function startOf(brew: BrewState, startMin: number): number {
  const { startedAtMs, clock } = brew;
  if (startedAtMs === undefined || clock === undefined) return startMin;
  return (Math.floor(startedAtMs / 60_000) + clock.utcOffsetMin + 1440) % 1440;
}

/** Is something in the log for this box? */
export function isFilled(box: SheetBox, brew: BrewState): boolean {
  const { entry } = box;
  switch (entry.as) {
    case 'start':
      return brew.startedAtMs !== undefined;
    case 'begun':
      return brew.moves.some((m) => m.moveId === entry.moveId && m.begunAtMs !== undefined);
    case 'done':
      return brew.moves.some((m) => m.moveId === entry.moveId && m.doneAtMs !== undefined);
    case 'portions':
      return brew.moves.some((m) => m.moveId === entry.moveId && m.ladles > 0);
    case 'reading':
      return brew.readings.some(
        (r) =>
          r.standing === 'holds' &&
          r.vessel === entry.vessel &&
          r.what === entry.what &&
          r.moveId === entry.moveId,
      );
    case 'gate':
      return brew.gates.some((g) => g.code === entry.gate);
    case 'wort':
      return brew.wortReads.some((w) => w.standing === 'holds' && w.point === entry.point);
    case 'note':
      return brew.notes.length >= Number(/\d+/.exec(box.code)?.[0]);
  }
}
