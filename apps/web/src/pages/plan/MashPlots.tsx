import type { Kit } from '@ladlework/brewhouse';
import { nameIn } from '@ladlework/brewhouse';
import type { MashFigure, Plan } from '@ladlework/planner';
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { clockAt, show } from '../../units/show.ts';

interface PlotOf {
  readonly figure: MashFigure;
  readonly title: string;
  readonly share: boolean;
}

const PLOTS: readonly PlotOf[] = [
  { figure: 'starchRaw', title: 'Starch still in the grain', share: true },
  { figure: 'starchOpen', title: 'Starch opened, not yet cut', share: true },
  { figure: 'extractKg', title: 'Extract dissolved', share: false },
  { figure: 'fermentableShare', title: 'Fermentable share of it', share: true },
  { figure: 'alphaLeft', title: 'Alpha-amylase left', share: true },
  { figure: 'betaLeft', title: 'Beta-amylase left', share: true },
];

const WIDE = 480;
const HIGH = 170;
const LEFT = 8;
const RIGHT = 190;
/** Letters of a vessel's name that stand beside a plot. */
const NAME_LETTERS = 19;
const TOP = 12;
const BASE = HIGH - 24;
/** Names at the right edge keep this much apart [px]. */
const LABEL_PX = 16;

/** What becomes of starch, extract and enzymes in each vessel, with the band of the ensemble. */
export function MashPlots({ plan, kit, startMin }: { plan: Plan; kit: Kit; startMin: number }) {
  if (plan.mashBands.length === 0) return null;
  return (
    <div class="mash-plots">
      {PLOTS.map((plot) => (
        <MashPlot key={plot.figure} plot={plot} plan={plan} kit={kit} startMin={startMin} />
      ))}
    </div>
  );
}

interface PlotProps {
  readonly plot: PlotOf;
  readonly plan: Plan;
  readonly kit: Kit;
  readonly startMin: number;
}

function MashPlot({ plot, plan, kit, startMin }: PlotProps) {
  const bands = plan.mashBands;
  const times = bands.flatMap((b) => b.timeMin);
  const top = Math.max(
    1e-9,
    ...bands.flatMap((b) => [...b.figures[plot.figure].high, ...b.figures[plot.figure].likely]),
  );
  const x = scaleLinear()
    .domain([Math.min(...times), Math.max(...times)])
    .range([LEFT, WIDE - RIGHT]);
  const y = scaleLinear().domain([0, top]).range([BASE, TOP]);
  const vessels = [...new Set(bands.map((b) => b.vessel))];
  const text = (value: number) => (plot.share ? percent(value) : show('mass', value));
  const ends = spread(
    vessels.map((vessel) => {
      const last = bands.filter((b) => b.vessel === vessel).at(-1);
      const value = last?.figures[plot.figure].likely.at(-1) ?? 0;
      return { vessel, value, y: y(value) };
    }),
  );
  const marks = x.ticks(4);
  return (
    <figure>
      <figcaption>{plot.title}</figcaption>
      <svg
        viewBox={`0 0 ${WIDE} ${HIGH}`}
        role="img"
        aria-label={`${plot.title}: ${ends.map((e) => `${nameIn(kit, e.vessel)} ends with ${text(e.value)}`).join(', ')}`}
      >
        <path class="hair" d={`M${LEFT} ${BASE}H${WIDE - RIGHT}`} />
        {marks.map((minute) => (
          <text key={minute} class="scale" x={x(minute)} y={HIGH - 8} text-anchor="middle">
            {clockAt(minute, startMin)}
          </text>
        ))}
        {bands.map((band) => {
          const { low, likely, high } = band.figures[plot.figure];
          const at = (i: number) => x(band.timeMin[i] ?? 0);
          const indices = band.timeMin.map((_, i) => i);
          const ribbon = area<number>(
            at,
            (i) => y(low[i] ?? 0),
            (i) => y(high[i] ?? 0),
          );
          const middle = line<number>(at, (i) => y(likely[i] ?? 0));
          return (
            <g
              key={`${band.vessel}${band.timeMin[0]}`}
              class={`stretch v${vessels.indexOf(band.vessel) % 4}`}
            >
              <path class="ribbon" d={ribbon(indices) ?? ''} />
              <path class="middle" d={middle(indices) ?? ''} />
            </g>
          );
        })}
        {ends.map((end) => (
          <text key={end.vessel} x={WIDE - RIGHT + 8} y={end.y + 4}>
            {short(nameIn(kit, end.vessel))} {text(end.value)}
          </text>
        ))}
        <text class="scale" x={LEFT} y={TOP - 2}>
          {text(top)}
        </text>
      </svg>
    </figure>
  );
}

const percent = (share: number): string => `${Math.round(share * 100)} %`;

const short = (name: string): string =>
  name.length <= NAME_LETTERS ? name : `${name.slice(0, NAME_LETTERS - 1)}…`;

/** Pushes labels apart so that none covers another or leaves the plot; their order stays. */
function spread<T extends { readonly y: number }>(labels: readonly T[]): T[] {
  const sorted = [...labels].sort((a, b) => b.y - a.y);
  let limit = BASE;
  const placed = sorted.map((label) => {
    const at = Math.min(label.y, limit);
    limit = at - LABEL_PX;
    return { ...label, y: at };
  });
  const above = TOP + 4 - (placed.at(-1)?.y ?? TOP + 4);
  if (above <= 0) return placed;
  let floor = TOP + 4;
  return placed
    .reverse()
    .map((label) => {
      const at = Math.max(label.y, floor);
      floor = at + LABEL_PX;
      return { ...label, y: at };
    })
    .reverse();
}
