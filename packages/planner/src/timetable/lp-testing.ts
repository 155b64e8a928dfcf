/**
 * The same day as a mixed-integer programme in LP format, for an independent solver to answer in
 * tests and benches: big-M orders, one binary for each pair and each person.
 */
import { type Compiled, FINISH, keyOf } from './compile.ts';
import { leastMinutes, type Moment, type TimetableProblem } from './problem.ts';

/**
 * LP text that minimises the finish.
 * @param problem the day; presence and heat are not part of it
 * @param c the same, compiled, for its points, claims and needs; no arc of it is used
 * @param horizonMin a finish that is surely enough
 */
export function lpOf(problem: TimetableProblem, c: Compiled, horizonMin: number): string {
  const rows: string[] = [];
  const integers = new Set<string>();
  const binaries: string[] = [];
  const M = horizonMin;
  const v = (point: number) => {
    const name = `t${point}`;
    integers.add(name);
    return name;
  };
  const at = (m: Moment) => v((c.startOf.get(m.activity) as number) + (m.edge === 'end' ? 1 : 0));
  const gap = (from: string, to: string, least: number) =>
    from === to || rows.push(`${to} - ${from} >= ${least}`);
  const most = (from: string, to: string, m: number) =>
    from === to || rows.push(`${to} - ${from} <= ${m}`);
  for (const a of problem.activities) {
    const s = at({ activity: a.id, edge: 'start' });
    const e = at({ activity: a.id, edge: 'end' });
    gap(s, e, leastMinutes(a));
    const stretch = a.stretchMin ?? 0;
    if (Number.isFinite(stretch)) most(s, e, leastMinutes(a) + stretch);
    gap(e, v(FINISH), 0);
    if (a.earliestMin !== undefined) rows.push(`${s} >= ${a.earliestMin}`);
    if (a.latestEndMin !== undefined) rows.push(`${e} <= ${a.latestEndMin}`);
    if (a.fixedStartMin !== undefined) rows.push(`${s} = ${a.fixedStartMin}`);
  }
  for (const lag of problem.lags) {
    if (lag.leastMin !== undefined) gap(at(lag.from), at(lag.to), lag.leastMin);
    if (lag.mostMin !== undefined) most(at(lag.from), at(lag.to), lag.mostMin);
  }
  c.claimPairs.forEach(({ a, b }, k) => {
    const x = c.claims[a] as Compiled['claims'][number];
    const y = c.claims[b] as Compiled['claims'][number];
    binaries.push(`o${k}`);
    rows.push(`${v(y.start)} - ${v(x.end)} - ${M} o${k} >= -${M}`);
    rows.push(`${v(x.start)} - ${v(y.end)} + ${M} o${k} >= 0`);
  });
  c.needs.forEach((need, k) => {
    const able = need.order.map((p) => `x${k}_${p}`);
    binaries.push(...able);
    rows.push(`${able.join(' + ')} = 1`);
    for (const p of need.order) {
      const from = c.fromMin[p] as number;
      const until = c.untilMin[p] as number;
      if (from > 0) rows.push(`${v(need.start)} - ${from} x${k}_${p} >= 0`);
      if (Number.isFinite(until)) rows.push(`${v(need.end)} + ${M} x${k}_${p} <= ${until + M}`);
    }
  });
  c.needPairs.forEach(({ a, b }, k) => {
    const x = c.needs[a] as Compiled['needs'][number];
    const y = c.needs[b] as Compiled['needs'][number];
    const both = x.order.filter((p) => y.order.includes(p));
    if (keyOf.need(x.activity) === keyOf.need(y.activity)) {
      for (const p of both) rows.push(`x${a}_${p} + x${b}_${p} <= 1`);
      return;
    }
    binaries.push(`q${k}`);
    for (const p of both) {
      // Either order holds once one person does both.
      rows.push(
        `${v(y.start)} - ${v(x.end)} - ${M} q${k} - ${M} x${a}_${p} - ${M} x${b}_${p} >= -${3 * M}`,
      );
      rows.push(
        `${v(x.start)} - ${v(y.end)} + ${M} q${k} - ${M} x${a}_${p} - ${M} x${b}_${p} >= -${2 * M}`,
      );
    }
  });
  rows.push(`${v(FINISH)} <= ${Math.min(M, problem.finishByMin ?? M)}`);
  return [
    'Minimize',
    ` obj: t${FINISH}`,
    'Subject To',
    ...rows.map((r, k) => ` r${k}: ${r}`),
    'General',
    ` ${[...integers].join(' ')}`,
    'Binary',
    ` ${binaries.join(' ')}`,
    'End',
  ].join('\n');
}
