import type { MenuPlan, PlanDocument } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { scaleLinear } from 'd3-scale';
import { Pick } from '../../form/fields.tsx';
import { clockAt, show } from '../../units/show.ts';
import { showWeight } from './way-words.ts';

interface Axis {
  readonly name: string;
  readonly of: (plan: MenuPlan) => number;
  readonly write: (value: number) => string;
}

const AXES = ['time', 'miss', 'hands', 'carried', 'energy', 'money', 'limit', 'colour'] as const;
type AxisKey = (typeof AXES)[number];

function axisOf(key: AxisKey, document: PlanDocument): Axis {
  switch (key) {
    case 'time':
      return {
        name: 'All done at',
        of: (p) => p.figures.finishH.likely,
        write: (h) => clockAt(60 * h, document.day.startMin),
      };
    case 'miss':
      return {
        name: 'Chance that a rest is missed',
        of: (p) => p.missChance,
        write: (s) => `${Math.round(100 * s)} %`,
      };
    case 'hands':
      return {
        name: 'Hands at the mash',
        of: (p) => p.figures.handsBusyMin.likely,
        write: (m) => show('duration', m),
      };
    case 'carried':
      return {
        name: 'Carried by hand',
        of: (p) => p.figures.carriedKg.likely,
        write: (kg) => showWeight(kg, 0),
      };
    case 'energy':
      return {
        name: 'Energy of the mash',
        of: (p) => p.figures.energyKWh.likely,
        write: (kWh) => `${kWh.toFixed(0)} kWh`,
      };
    case 'money':
      return {
        name: 'Money',
        of: (p) => p.figures.cost.likely,
        write: (m) => m.toFixed(0),
      };
    case 'limit':
      return {
        name: 'Limit of attenuation',
        of: (p) => p.wort.limitApparentPct.likely,
        write: (pct) => `${pct.toFixed(1)} %`,
      };
    case 'colour':
      return {
        name: 'Colour from the boils',
        of: (p) => p.wort.colourAddedEbc.likely,
        write: (ebc) => `${ebc.toFixed(1)} EBC`,
      };
  }
}

const WIDE = 560;
const HIGH = 300;
const ROOM = { left: 96, right: 30, top: 44, bottom: 56 } as const;
const DOT = 13;

/** The menu as points, each with its number in the list. */
export function Scatter({
  plans,
  document,
}: {
  plans: readonly MenuPlan[];
  document: PlanDocument;
}) {
  const across = useSignal<AxisKey>('time');
  const up = useSignal<AxisKey>('miss');
  const [ax, ay] = [axisOf(across.value, document), axisOf(up.value, document)];
  const span = (axis: Axis) => {
    const all = plans.map(axis.of);
    const [low, high] = [Math.min(...all), Math.max(...all)];
    return low === high ? [low - 1, high + 1] : [low, high];
  };
  const [xs, ys] = [span(ax), span(ay)];
  const x = scaleLinear()
    .domain(xs)
    .range([ROOM.left + DOT, WIDE - ROOM.right - DOT]);
  const y = scaleLinear()
    .domain(ys)
    .range([HIGH - ROOM.bottom - DOT, ROOM.top + DOT]);
  const options = AXES.map((key) => ({ value: key, text: axisOf(key, document).name }));
  const seen = apart(plans.map((p) => ({ x: x(ax.of(p)), y: y(ay.of(p)) })));
  return (
    <div class="scatter">
      <div class="fields noprint">
        <Pick
          label="Across"
          value={across.value}
          options={options}
          onValue={(key) => {
            across.value = key;
          }}
        />
        <Pick
          label="Up"
          value={up.value}
          options={options}
          onValue={(key) => {
            up.value = key;
          }}
        />
      </div>
      <svg
        viewBox={`0 0 ${WIDE} ${HIGH}`}
        role="img"
        aria-label={`${ay.name} against ${ax.name}: ${plans.map((p, i) => `plan ${i + 1} at ${ax.write(ax.of(p))}, ${ay.write(ay.of(p))}`).join('; ')}`}
      >
        <path
          class="axis"
          d={`M${ROOM.left} ${ROOM.top}V${HIGH - ROOM.bottom}H${WIDE - ROOM.right}`}
        />
        <text x={0} y={16}>
          {ay.name}
        </text>
        <text x={WIDE - ROOM.right} y={HIGH - 6} text-anchor="end">
          {ax.name}
        </text>
        {xs.map((v, i) => (
          <text
            key={v}
            class="tick"
            x={x(v)}
            y={HIGH - ROOM.bottom + 22}
            text-anchor={i === 0 ? 'start' : 'end'}
          >
            {ax.write(v)}
          </text>
        ))}
        {ys.map((v) => (
          <text key={v} class="tick" x={ROOM.left - 8} y={y(v) + 5} text-anchor="end">
            {ay.write(v)}
          </text>
        ))}
        {seen.map((at, i) => (
          <g key={plans[i]?.what}>
            <circle cx={at.x} cy={at.y} r={DOT} />
            <text class="number" x={at.x} y={at.y + 5} text-anchor="middle">
              {i + 1}
            </text>
          </g>
        ))}
      </svg>
    </div>
  );
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** Points that would lie on one another are moved aside until each number can be read. */
function apart(points: readonly Point[]): Point[] {
  const placed: Point[] = [];
  for (const p of points) {
    let at = p;
    const hides = (q: Point) => Math.hypot(q.x - at.x, q.y - at.y) < 2 * DOT;
    for (let i = 1; placed.some(hides) && i <= points.length; i++) {
      const left = p.x + DOT * 2 * i > WIDE - ROOM.right;
      at = { x: p.x + (left ? -1 : 1) * DOT * 2 * i, y: p.y };
    }
    placed.push(at);
  }
  return placed;
}
