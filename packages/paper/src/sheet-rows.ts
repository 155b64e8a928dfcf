/** What stands in each row of a brew sheet, as words and boxes, before it has a place on paper. */
import { type Kit, moveText, type Say } from '@ladlework/brewhouse';
import { type PlanSummary, type SheetBox, sheetBoxes, sheetVolumeL } from '@ladlework/log';
import type { Caution, Plan, PlanDocument, PlannedReturn } from '@ladlework/planner';
import {
  type Band,
  entryUnit,
  format,
  formatBand,
  formatClock,
  type UnitPair,
} from '@ladlework/quantity';

/** A box with the column it stands in: begun, done, what is read, what is counted. */
export interface RowBox {
  readonly code: string;
  readonly column: 0 | 1 | 2 | 3;
  /** Unit or question, beside the box. */
  readonly unit: string;
}

export interface MoveRow {
  readonly kind: 'move';
  readonly clock: string;
  /** Under the clock: between when it is to begin, or when it ends. */
  readonly until: string;
  readonly hands: string;
  readonly text: string;
  readonly planned: string;
  /** Cautions at this move, one word each. */
  readonly cautions: readonly string[];
  readonly boxes: readonly RowBox[];
}

/** Small boxes side by side: gates to tick, figures of the wort. */
export interface FieldRow {
  readonly kind: 'fields';
  readonly title: string;
  readonly tick: boolean;
  readonly fields: readonly {
    readonly code: string;
    readonly text: string;
    /** Of each box; none for a tick. */
    readonly units: readonly string[];
  }[];
}

export interface NoteRow {
  readonly kind: 'note';
  readonly code: string;
}

export type SheetRow = MoveRow | FieldRow | NoteRow;

/** One word for each caution; the sentence stands at the foot of the sheet. */
export const CAUTION_WORD: Readonly<Record<Caution['code'], string>> = {
  scald: 'SCALD',
  'boil-over': 'BOIL-OVER',
  lifting: 'LIFT',
  'burner-co': 'CO',
  scorch: 'SCORCH',
  ph: 'pH',
};

/** Points of the wort in one row of the sheet. */
const POINTS = 2;

/**
 * The rows of a sheet, in the order of the screen.
 *
 * @param document kit, beer, mash and day
 * @param plan made from it
 * @param summary of the plan, as the log keeps it
 * @param pair the brewer's units
 */
export function sheetRows(
  document: PlanDocument,
  plan: Plan,
  summary: PlanSummary,
  pair: UnitPair,
): SheetRow[] {
  const rows: SheetRow[] = [];
  const boxes = sheetBoxes(summary);
  const words = new Words(document, plan, summary, pair);
  for (let i = 0; i < boxes.length; ) {
    const box = boxes[i] as SheetBox;
    const same = boxes.slice(i).findIndex((b) => groupOf(b) !== groupOf(box));
    const group = same < 0 ? boxes.slice(i) : boxes.slice(i, i + same);
    rows.push(...words.rowsOf(group));
    i += group.length;
  }
  return rows;
}

/** Boxes of one group stand in one row, or in rows of their own kind. */
function groupOf({ entry }: SheetBox): string {
  if (entry.as === 'gate' || entry.as === 'wort' || entry.as === 'note') return entry.as;
  return 'moveId' in entry ? (entry.moveId ?? entry.as) : entry.as;
}

class Words {
  private readonly document: PlanDocument;
  private readonly plan: Plan;
  private readonly summary: PlanSummary;
  private readonly pair: UnitPair;
  private readonly kit: Kit;
  private readonly say: Say;

  constructor(document: PlanDocument, plan: Plan, summary: PlanSummary, pair: UnitPair) {
    this.document = document;
    this.plan = plan;
    this.summary = summary;
    this.pair = pair;
    this.kit = document.kit;
    this.say = {
      temp: (c) => format('temperature', c, pair, { digits: 0 }),
      volume: (l) => format('volume', l, pair),
      mass: (kg) => format('mass', kg, pair),
      minutes: (min) => format('duration', min, pair),
      ratio: (r) => format('ratio', r, pair, { digits: 1 }),
    };
  }

  rowsOf(group: readonly SheetBox[]): SheetRow[] {
    const first = group[0] as SheetBox;
    switch (first.entry.as) {
      case 'gate':
        return [this.fields('Tick when seen', true, group)];
      case 'wort': {
        const rows: SheetRow[] = [];
        for (let i = 0; i < group.length; i += POINTS)
          rows.push(
            this.fields(i === 0 ? 'After the mash' : '', false, group.slice(i, i + POINTS)),
          );
        return rows;
      }
      case 'note':
        return group.map(({ code }) => ({ kind: 'note', code }));
      case 'start':
        return [
          {
            kind: 'move',
            clock: this.clock(0),
            until: '',
            hands: '',
            text: first.text,
            planned: 'minute 0 of every clock below',
            cautions: [],
            boxes: [{ code: first.code, column: 0, unit: 'clock' }],
          },
        ];
      default:
        return [this.moveRow(first.entry.moveId ?? '', group)];
    }
  }

  private fields(title: string, tick: boolean, group: readonly SheetBox[]): FieldRow {
    const fields = group.map((b) => ({ code: b.code, text: b.text, units: this.wortUnits(b) }));
    return { kind: 'fields', title, tick, fields };
  }

  private clock(min: number): string {
    return formatClock(this.document.day.startMin + min);
  }

  /** Between which clocks, or the one clock there is no doubt of. */
  private span(band: Band): string {
    const [low, high] = [this.clock(band.low), this.clock(band.high)];
    return low === high ? low : `${low}–${high}`;
  }

  private wortUnits({ entry }: SheetBox): string[] {
    if (entry.as !== 'wort') return [];
    return entry.figures.map((figure) => {
      if (figure === 'litres') return entryUnit('volume', this.pair, sheetVolumeL(this.summary));
      return figure === 'tempC' ? entryUnit('temperature', this.pair) : this.extractUnit();
    });
  }

  private extractUnit(): string {
    return this.pair.extract === 'sg' ? 'SG' : '°P';
  }

  private moveRow(moveId: string, group: readonly SheetBox[]): MoveRow {
    const planned = this.plan.moves.find((m) => m.move.id === moveId);
    const summary = this.summary.moves.find((m) => m.id === moveId);
    if (planned === undefined || summary === undefined)
      throw new Error(`no move ${moveId} in the plan`);
    const codes = this.plan.cautions.filter((c) => c.moveId === moveId).map((c) => c.code);
    return {
      kind: 'move',
      clock: this.clock(planned.startMin.likely),
      until: group.some((b) => b.entry.as === 'begun')
        ? this.span(planned.startMin)
        : `to ${this.clock(planned.endMin.likely)}`,
      hands: planned.move.hands.join(' '),
      text: moveText(planned.move, this.kit, this.say),
      planned: this.plannedText(moveId, group),
      cautions: [...new Set(codes)].map((code) => CAUTION_WORD[code]),
      boxes: group.map((box) => this.rowBox(box, moveId)),
    };
  }

  /** What the plan expects of each box of the move, low to high. */
  private plannedText(moveId: string, group: readonly SheetBox[]): string {
    const parts = group.flatMap(({ entry, planned }) => {
      if (planned === undefined) return [];
      // When it is to begin stands under the clock; what begins by itself is waited for at its end.
      if (entry.as === 'begun') return [];
      if (entry.as === 'done')
        return group.some((b) => b.entry.as === 'begun') ? [] : [`done ${this.span(planned)}`];
      if (entry.as !== 'reading') return [];
      return [formatBand('temperature', planned, this.pair)];
    });
    const ret = this.plan.returns.find((r) => r.moveIds.return.at(-1) === moveId);
    if (ret !== undefined) parts.push(this.returnText(ret));
    const pulled = this.plan.returns.find((r) => r.moveIds.pull[0] === moveId);
    if (pulled !== undefined) parts.push(this.pullText(pulled));
    return parts.join(' · ');
  }

  /** What is needed and what is kept back, of all pots of the pull. */
  private pullText(ret: PlannedReturn): string {
    const all = ret.moveIds.pull.length > 1 ? ' in all' : '';
    return `needs ${formatBand('volume', ret.pullL, this.pair)}${all}`;
  }

  private returnText(ret: PlannedReturn): string {
    const { pair } = this;
    const bare = (band: PlannedReturn['arrivalC']) =>
      formatBand('temperature', band, pair, { digits: 0 }).replace(/ °[CF]$/, '');
    return `tun ${bare(ret.tunBeforeC)}, arrives ${bare(ret.arrivalC)}`;
  }

  private rowBox({ code, entry }: SheetBox, moveId: string): RowBox {
    switch (entry.as) {
      case 'begun':
        return { code, column: 0, unit: 'clock' };
      case 'done':
        return { code, column: 1, unit: 'clock' };
      case 'portions':
        return { code, column: 3, unit: this.portionUnit(moveId) };
      case 'reading':
        return entry.what === 'temp'
          ? { code, column: 2, unit: entryUnit('temperature', this.pair) }
          : { code, column: 3, unit: entry.what === 'ph' ? 'pH' : 'blue?' };
      default:
        throw new Error(`box ${code} does not belong to a move`);
    }
  }

  private portionUnit(moveId: string): string {
    const move = this.plan.moves.find((m) => m.move.id === moveId)?.move;
    const id = move !== undefined && 'route' in move ? move.route : '';
    const how = this.kit.routes.find((r) => r.id === id)?.how;
    return how === 'bucket' ? 'buckets' : how === 'ladle' ? 'ladles' : 'minutes';
  }
}
