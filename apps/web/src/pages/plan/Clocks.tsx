import { nameIn } from '@ladlework/brewhouse';
import { enzymeClocks, type Plan, type PlanDocument } from '@ladlework/planner';
import { bare, show } from '../../units/show.ts';

interface Stretch {
  readonly name: string;
  readonly fromMin: number;
  readonly toMin: number;
}

/** Minutes in each enzyme's window, rest by rest and vessel by vessel, pulls included. */
export function Clocks({ plan, document }: { plan: Plan; document: PlanDocument }) {
  const { kit } = document;
  const rows = stretches(plan, document).flatMap((stretch) => rowsOf(plan, document, stretch));
  const windows = rows[0]?.minutes.map((m) => m.window) ?? [];
  if (rows.length === 0) return null;
  return (
    <table class="plan-table clocks">
      <caption>
        Minutes each part of the mash stands where the enzyme works best, on the likely day. A pull
        on its way to the boil has its own.
      </caption>
      <thead>
        <tr>
          <th scope="col">From landing to landing</th>
          <th scope="col">In</th>
          {windows.map((window) => (
            <th scope="col" class="num" key={window.name}>
              {window.name}
              <small>
                {bare('temperature', window.optimumC[0], 0)}–
                {show('temperature', window.optimumC[1], 0)}
              </small>
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={`${row.stretch}${row.vessel}`}>
            <th scope="row">{row.stretch}</th>
            <td data-label="In">{nameIn(kit, row.vessel)}</td>
            {row.minutes.map(({ window, minutes }) => (
              <td class="num" data-label={window.name} key={window.name}>
                {minutes < 0.5 ? '–' : Math.round(minutes)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** From mash-in to the first landing, from landing to landing, to the end of the mash. */
function stretches(plan: Plan, { mash }: PlanDocument): Stretch[] {
  const done = (id: string | undefined) => plan.trace.moves.find((m) => m.id === id)?.endMin;
  const begin = done(plan.trace.moves.find((m) => m.kind === 'mash-in')?.id) ?? 0;
  const end = Math.max(...plan.trace.moves.map((m) => m.endMin));
  const landings = mash.rests.slice(1).map((_, i) => landedAt(plan, i + 1) ?? end);
  const marks = [begin, ...landings, end];
  return mash.rests.flatMap((rest, i) => {
    const fromMin = marks[i] as number;
    const toMin = marks[i + 1] as number;
    const name = `Rest ${i + 1}, ${show('temperature', rest.tempC, 0)}, ${show('duration', toMin - fromMin)}`;
    return toMin > fromMin ? [{ name, fromMin, toMin }] : [];
  });
}

/** When the mash reached the rest after this raise: its rest begins then. */
function landedAt(plan: Plan, raise: number): number | undefined {
  return plan.trace.moves.find((m) => m.id === `rest-${raise + 1}`)?.startMin;
}

function rowsOf(plan: Plan, { kit, mash }: PlanDocument, { name, fromMin, toMin }: Stretch) {
  const restTun = mash.layout === 'kettle-mash' ? mash.park : mash.tun;
  const held = new Set(
    plan.moves
      .map((m) => m.move)
      .flatMap((m) =>
        m.kind === 'pull' ? [m.to, m.from] : 'vessel' in m && m.kind === 'rest' ? [m.vessel] : [],
      ),
  );
  const curves = plan.trace.curves.filter(
    (c) => held.has(c.vessel) && kit.vessels.some((v) => v.id === c.vessel),
  );
  return enzymeClocks(curves, fromMin, toMin)
    .filter((clock) => clock.vessel === restTun || clock.minutes.some((m) => m.minutes >= 0.5))
    .map((clock) => ({ ...clock, stretch: name }));
}
