/** Picture [px] and the frame of the plot in it. */
const WIDTH = 680;
const HEIGHT = 420;
const FRAME = { left: 64, right: 656, top: 64, bottom: 366 };

/** Okabe & Ito's colours, told apart by every common kind of colour vision; grey for the rest. */
export const INK = {
  first: '#0072b2',
  second: '#b34700',
  third: '#00795a',
  measured: '#000000',
  quiet: '#6b6b6b',
} as const;

/** An axis with straight scale. */
export interface Axis {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly number[];
  /** Text of a tick; default the number. */
  readonly text?: (tick: number) => string;
}

type Point = readonly [x: number, y: number];

/** A label in the picture: next to what it names, so that no legend is needed. */
export interface Label {
  readonly text: string;
  readonly at: Point;
  readonly dx?: number;
  readonly dy?: number;
  readonly anchor?: 'start' | 'middle' | 'end';
}

/** What stands in a chart, drawn in this order. */
export type Mark =
  | {
      readonly kind: 'band';
      readonly low: readonly Point[];
      readonly high: readonly Point[];
      readonly colour: string;
      readonly opacity: number;
      readonly label?: Label;
    }
  | {
      readonly kind: 'line';
      readonly points: readonly Point[];
      readonly colour: string;
      readonly dashed?: boolean;
      readonly label?: Label;
    }
  | {
      readonly kind: 'point';
      readonly at: Point;
      readonly sd?: number;
      readonly colour: string;
      readonly open?: boolean;
      readonly label?: Label;
    }
  | {
      readonly kind: 'span';
      readonly x: number;
      readonly low: number;
      readonly high: number;
      readonly colour: string;
      readonly label?: Label;
    };

export interface Chart {
  readonly title: string;
  /** What the reader sees, in a sentence; under the title, and for those who cannot see. */
  readonly says: string;
  readonly x: Axis;
  readonly y: Axis;
  readonly marks: readonly Mark[];
}

const scaleOf =
  ({ from, to }: Axis, low: number, high: number) =>
  (value: number) =>
    low + ((value - from) / (to - from)) * (high - low);
const px = (value: number) => value.toFixed(1);
const escaped = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

/**
 * Draws a chart.
 *
 * @param chart  axes and marks in their own units
 * @returns an SVG document with a white ground, readable by itself
 */
export function drawChart({ title, says, x, y, marks }: Chart): string {
  const toX = scaleOf(x, FRAME.left, FRAME.right);
  const toY = scaleOf(y, FRAME.bottom, FRAME.top);
  const at = ([a, b]: Point) => `${px(toX(a))} ${px(toY(b))}`;
  const path = (points: readonly Point[]) => `M${points.map(at).join('L')}`;
  const text = (where: string, words: string, more = '') =>
    `<text ${where}${more}>${escaped(words)}</text>`;

  const label = (given: Label | undefined, colour: string) => {
    if (given === undefined) return [];
    const { at: point, dx = 0, dy = 0, anchor = 'start' } = given;
    const where = `x="${px(toX(point[0]) + dx)}" y="${px(toY(point[1]) + dy)}"`;
    return [text(where, given.text, ` fill="${colour}" text-anchor="${anchor}"`)];
  };
  const whisker = (a: number, low: number, high: number, colour: string, wide: number) =>
    `<path d="${path([
      [a, low],
      [a, high],
    ])}" stroke="${colour}" stroke-width="${wide}"/>`;

  const draw = (mark: Mark): string[] => {
    const words = label(mark.label, mark.colour);
    switch (mark.kind) {
      case 'band': {
        const outline = path([...mark.high, ...[...mark.low].reverse()]);
        return [
          `<path d="${outline}Z" fill="${mark.colour}" opacity="${mark.opacity}"/>`,
          ...words,
        ];
      }
      case 'line': {
        const dash = mark.dashed === true ? ' stroke-dasharray="6 4"' : '';
        return [
          `<path d="${path(mark.points)}" stroke="${mark.colour}" stroke-width="2"${dash}/>`,
          ...words,
        ];
      }
      case 'point': {
        const [a, b] = mark.at;
        const sd = mark.sd ?? 0;
        const fill = mark.open === true ? '#ffffff' : mark.colour;
        return [
          ...(sd > 0 ? [whisker(a, b - sd, b + sd, mark.colour, 1.5)] : []),
          `<circle cx="${px(toX(a))}" cy="${px(toY(b))}" r="4.5" fill="${fill}" stroke="${mark.colour}" stroke-width="1.5"/>`,
          ...words,
        ];
      }
      case 'span':
        return [whisker(mark.x, mark.low, mark.high, mark.colour, 5), ...words];
    }
  };

  const grid = [
    ...x.ticks.map((tick) =>
      text(
        `x="${px(toX(tick))}" y="${FRAME.bottom + 20}"`,
        x.text?.(tick) ?? String(tick),
        ` text-anchor="middle" fill="${INK.quiet}"`,
      ),
    ),
    ...y.ticks.flatMap((tick) => [
      `<path d="M${FRAME.left} ${px(toY(tick))}H${FRAME.right}" stroke="#e2e2e2"/>`,
      text(
        `x="${FRAME.left - 8}" y="${px(toY(tick) + 4)}"`,
        y.text?.(tick) ?? String(tick),
        ` text-anchor="end" fill="${INK.quiet}"`,
      ),
    ]),
    text(
      `x="${(FRAME.left + FRAME.right) / 2}" y="${HEIGHT - 14}"`,
      x.label,
      ` text-anchor="middle" fill="${INK.quiet}"`,
    ),
    text(`x="${FRAME.left - 46}" y="${FRAME.top - 10}"`, y.label, ` fill="${INK.quiet}"`),
  ];

  return `${[
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="system-ui, sans-serif" font-size="13" fill="none" role="img" aria-label="${escaped(`${title}. ${says}`)}">`,
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#ffffff"/>`,
    text('x="18" y="22"', title, ' fill="#000000" font-size="15" font-weight="600"'),
    text('x="18" y="40"', says, ` fill="${INK.quiet}" font-size="12"`),
    ...grid,
    ...marks.flatMap(draw),
    '</svg>',
  ].join('\n')}\n`;
}
