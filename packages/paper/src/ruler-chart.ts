/**
 * The ruler chart of one return: tun on the left, arrival on the right, litres on the slope
 * between them. A straight edge laid over the two readings crosses the litres to return.
 */
import type { ReturnRuler } from '@ladlework/planner';
import {
  entryUnit,
  format,
  fromHouse,
  type Kind,
  toHouse,
  type UnitPair,
} from '@ladlework/quantity';
import { LINE, MARGIN_MM, type PaperPage, type PaperSize, Pen, STRONG, THIN } from './drawing.ts';
import { linesOf } from './letters.ts';
import { arrivalAt, EXACT, type RulerScales, rulerScales, type Span } from './ruler-range.ts';
import { digitsOf, type Tick, ticksOf } from './ticks.ts';

export interface ChartFacts {
  readonly size: PaperSize;
  readonly pair: UnitPair;
  /** What the vessels are called. */
  readonly nameOf: (vessel: string) => string;
  /** Line under the title: beer, kit, brew, when printed. */
  readonly brew: string;
  /** Water to grist of the whole mash [L/kg]. */
  readonly liquorLPerKg: number;
}

/** Where on the page the chart stands [mm]. */
interface Frame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** A point on the page [mm]. */
interface Point {
  readonly x: number;
  readonly y: number;
}

/** Where values of the three scales stand on the page. */
interface ChartGeometry {
  readonly tun: (tunC: number) => Point;
  readonly arrival: (arrivalC: number) => Point;
  readonly litres: (litres: number) => Point;
}

/**
 * Places the scales so that both readings use the whole height.
 *
 * Both upright scales are x(tun) and y(arrival) laid off from a pole where the reading would be the
 * target; litres stand on the line through the poles at s / (1 - s) = m z / n.
 *
 * @source alignment charts of the form x / y = z with two parallel scales and a slanted one
 *   (d'Ocagne 1899, Traité de nomographie), from memory
 */
function chartGeometry(found: RulerScales, frame: Frame): ChartGeometry {
  const { scales, tunC, arrivalC } = found;
  const high = frame.bottom - frame.top;
  const m = high / (scales.x(tunC.low) - scales.x(tunC.high));
  const n = high / (scales.y(arrivalC.high) - scales.y(arrivalC.low));
  const tunPole = frame.top - scales.x(tunC.high) * m;
  const arrivalPole = frame.bottom + scales.y(arrivalC.low) * n;
  return {
    tun: (c) => ({ x: frame.left, y: tunPole + scales.x(c) * m }),
    arrival: (c) => ({ x: frame.right, y: arrivalPole - scales.y(c) * n }),
    litres: (l) => {
      const ratio = (m / n) * scales.z(l);
      const s = ratio / (1 + ratio);
      return {
        x: frame.left + s * (frame.right - frame.left),
        y: tunPole + s * (arrivalPole - tunPole),
      };
    },
  };
}

/**
 * The chart of a return as a page.
 *
 * @param ruler the return
 * @param facts names, units and paper
 * @returns undefined when the pot as planned does not reach the target over any stretch of readings
 *   worth a chart
 */
export function rulerChart(ruler: ReturnRuler, facts: ChartFacts): PaperPage | undefined {
  const found = rulerScales(ruler);
  return found === undefined ? undefined : new Chart(ruler, found, facts).page();
}

const PORTION_WORDS = {
  ladle: 'ladles',
  bucket: 'buckets',
  pump: 'min of pumping',
  gravity: 'min of running',
} as const;

const STROKE_MM = [4, 2.8, 1.6] as const;

class Chart {
  private readonly ruler: ReturnRuler;
  private readonly found: RulerScales;
  private readonly facts: ChartFacts;
  private readonly pen: Pen;
  private readonly frame: Frame;
  private readonly at: ChartGeometry;
  private readonly volumeUnit: string;
  private readonly degreeUnit: string;

  constructor(ruler: ReturnRuler, found: RulerScales, facts: ChartFacts) {
    this.ruler = ruler;
    this.found = found;
    this.facts = facts;
    this.pen = new Pen(facts.size);
    const { widthMm, heightMm } = this.pen;
    this.frame = { left: 34, right: widthMm - 46, top: 66, bottom: heightMm - 52 };
    this.at = chartGeometry(found, this.frame);
    this.volumeUnit = entryUnit('volume', facts.pair, found.litres.high);
    this.degreeUnit = entryUnit('temperature', facts.pair);
  }

  page(): PaperPage {
    const title = `Return ${this.ruler.pull}: to ${this.degrees(this.ruler.targetC)}`;
    this.head(title);
    this.upright('tun');
    this.upright('arrival');
    this.potScale();
    this.litreScale();
    this.example();
    this.foot();
    return this.pen.page(title);
  }

  private degrees = (c: number): string => format('temperature', c, this.facts.pair);
  private volume = (l: number): string =>
    format('volume', l, this.facts.pair, { unit: this.volumeUnit });
  private get tunName(): string {
    return this.facts.nameOf(this.ruler.tun);
  }
  private get potName(): string {
    return this.ruler.pots.map(this.facts.nameOf).join(' and ');
  }

  private head(title: string): void {
    const { pen } = this;
    pen.text(MARGIN_MM, 17, title, { sizePt: 20, bold: true });
    pen.text(MARGIN_MM, 23.5, this.facts.brew, { sizePt: 9 });
    const { planned } = this.ruler;
    const portions = planned.litres / this.ruler.route.portionL;
    const steps = [
      `1  Stir, then read ${this.tunName} in three places, just before ${this.byHand ? `the first ${this.one}` : 'the return'}.`,
      `2  Read ${this.byHand ? `the second ${this.one} as it lands` : 'what lands, once the line is warm'}; or ${this.potName}, on the outer scale.`,
      '3  Lay a straight edge over both. Where it crosses the slope: return so much, stir, read again.',
      `Dashed, as planned: ${this.tunName} ${this.degrees(planned.tunC)}, arrives at ${this.degrees(planned.arrivalC)}: return ${this.volume(planned.litres)}, ${portions.toFixed(1)} ${this.portionWord}.`,
    ];
    steps.forEach((step, n) => {
      pen.text(MARGIN_MM, 31 + 5.6 * n, step, { sizePt: 11, bold: n === 3 });
    });
  }

  /** Carried by hand, a ladle or bucket at a time? */
  private get byHand(): boolean {
    const { how } = this.ruler.route;
    return how === 'ladle' || how === 'bucket';
  }
  private get one(): string {
    return this.byHand ? this.ruler.route.how : 'minute of flow';
  }

  private get portionWord(): string {
    return PORTION_WORDS[this.ruler.route.how];
  }

  /** Values of a span as printed, and where they stand. */
  private ticks(
    kind: Kind,
    unit: string,
    span: Span,
    along: (si: number) => number,
    whole = false,
  ) {
    const at = (shown: number) => along(toHouse(kind, unit, shown));
    const ends = { low: fromHouse(kind, unit, span.low), high: fromHouse(kind, unit, span.high) };
    return ticksOf({ ...ends, at }, whole);
  }

  private upright(which: 'tun' | 'arrival'): void {
    const { pen, frame, found } = this;
    const place = this.at[which];
    const span = which === 'tun' ? found.tunC : found.arrivalC;
    const x = which === 'tun' ? frame.left : frame.right;
    const out = which === 'tun' ? -1 : 1;
    pen.line(x, place(span.low).y, x, place(span.high).y, LINE);
    const ticks = this.ticks('temperature', this.degreeUnit, span, (c) => place(c).y);
    const y = (t: Tick) => place(toHouse('temperature', this.degreeUnit, t.value)).y;
    this.strokes(ticks, out, (t) => ({ x, y: y(t) }));
    const [first, second] = which === 'tun' ? [this.tunName, 'reads'] : ['Arrives', `at`];
    pen.text(x, frame.top - 9.5, first, { sizePt: 11, bold: true, anchor: 'middle' });
    pen.text(x, frame.top - 5, `${second}, ${this.degreeUnit}`, { sizePt: 9, anchor: 'middle' });
  }

  /** Strokes of a scale with their numbers, to the left (-1) or right (1). */
  private strokes(
    ticks: readonly Tick[],
    out: -1 | 1,
    place: (t: Tick) => Point,
    sizePt = 10,
  ): void {
    const digits = digitsOf(ticks);
    for (const t of ticks) {
      const { x, y } = place(t);
      const length = STROKE_MM[t.rank] * (sizePt / 10);
      this.pen.line(x, y, x + out * length, y, t.rank === 0 ? LINE : THIN);
      if (t.rank === 0)
        this.pen.text(x + out * (length + 1), y + 1.2, t.value.toFixed(digits), {
          sizePt,
          bold: sizePt >= 10,
          anchor: out < 0 ? 'end' : 'start',
        });
    }
  }

  /** Outside the arrivals: what the pot reads, for whoever cannot read what lands. */
  private potScale(): void {
    const { pen, frame, found } = this;
    const { pots } = found;
    const span = {
      low: (pots[0] as (typeof pots)[number]).potC,
      high: (pots.at(-1) as (typeof pots)[number]).potC,
    };
    const x = frame.right + 22;
    const along = (potC: number) => this.at.arrival(arrivalAt(pots, potC)).y;
    pen.line(x, along(span.low), x, along(span.high), THIN);
    const ticks = this.ticks('temperature', this.degreeUnit, span, along);
    const y = (t: Tick) => along(toHouse('temperature', this.degreeUnit, t.value));
    this.strokes(ticks, 1, (t) => ({ x, y: y(t) }), 8);
    pen.text(x + 1, frame.top - 9.5, 'pot reads', { sizePt: 9, anchor: 'middle' });
    pen.text(x + 1, frame.top - 5, `± ${percent(found.worstByPot)}`, {
      sizePt: 8,
      anchor: 'middle',
    });
  }

  private litreScale(): void {
    const { pen, found, at } = this;
    const { litres } = found;
    const from = at.litres(litres.low);
    const to = at.litres(litres.high);
    pen.line(from.x, from.y, to.x, to.y, LINE);
    const along = (l: number) => at.litres(l).y;
    const ticks = this.ticks('volume', this.volumeUnit, litres, along);
    this.strokes(ticks, -1, (t) => at.litres(toHouse('volume', this.volumeUnit, t.value)));
    const { portionL } = this.ruler.route;
    const portions = ticksOf(
      {
        low: litres.low / portionL,
        high: litres.high / portionL,
        at: (n) => along(n * portionL),
      },
      this.byHand,
    );
    this.strokes(portions, 1, (t) => at.litres(t.value * portionL));
    pen.text(from.x - 2, from.y - 4, this.volumeUnit, { sizePt: 11, bold: true, anchor: 'end' });
    pen.text(from.x + 2, from.y - 4, this.portionWord, { sizePt: 11, bold: true });
    pen.line(to.x - STROKE_MM[0], to.y, to.x + STROKE_MM[0], to.y, STRONG);
    pen.text(to.x, to.y + 5.5, `all there is: ${this.volume(litres.high)}`, {
      sizePt: 9,
      bold: true,
      anchor: 'middle',
    });
  }

  private example(): void {
    const { pen, at, found } = this;
    const within = (c: number, s: Span) => Math.max(s.low, Math.min(s.high, c));
    const { planned } = this.ruler;
    const a = at.tun(within(planned.tunC, found.tunC));
    const b = at.arrival(within(planned.arrivalC, found.arrivalC));
    pen.line(a.x, a.y, b.x, b.y, THIN, true);
  }

  private foot(): void {
    const { pen, ruler, found } = this;
    const { planned } = ruler;
    const more = ruler.need(planned.tunC, planned.potC, 1.1);
    const perTenth = more.litres - planned.litres;
    const outside = `Outside these scales: a line that passes below the slope means that all there is lands short; return it all, read, and mend by hot liquor, direct heat or a second pull. One that passes above it means little is missing: add one ${this.one}, stir, read.`;
    const holds = `Holds for ${this.volume(ruler.tunL)} in ${this.tunName} (whole mash ${format('ratio', this.facts.liquorLPerKg, this.facts.pair)}), ${this.volume(ruler.haveL)} of ${ruler.carries} in ${this.potName}, by ${ruler.route.name}. A tenth more in ${this.tunName} takes ${this.volume(perTenth)} more, a tenth less so much less.`;
    const exact = `${this.tunName} from ${this.degrees(found.tunC.low)} to ${this.degrees(found.tunC.high)}, arrival from ${this.degrees(found.arrivalC.low)} to ${this.degrees(found.arrivalC.high)}: within ${percent(found.worst)} of what the plan's own sum gives (asked: ${percent(EXACT)}). The kit's own doubt is on the brew sheet.`;
    const care = `Scald: boiling mash burns at once and sticks. Sleeves down, face away, dry footing, cold water near; nobody under the pot.`;
    let y = pen.heightMm - MARGIN_MM - 33;
    for (const [text, bold] of [
      [holds, false],
      [exact, false],
      [outside, false],
      [care, true],
    ] as const) {
      for (const line of linesOf(text, pen.widthMm - 2 * MARGIN_MM, 9, bold)) {
        pen.text(MARGIN_MM, y, line, { sizePt: 9, bold });
        y += 4.2;
      }
      y += 0.8;
    }
  }
}

const percent = (share: number): string => `${(Math.ceil(share * 1000) / 10).toFixed(1)} %`;
