import { readFileSync } from 'node:fs';
import type { Say } from '@ladlework/brewhouse';
import { parseBrewFile } from '@ladlework/contract';
import { planDay, timetableOf } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { heightOf, sheetOf } from './geometry.ts';
import { later, mashInDay, together, withWork } from './whole-day.ts';

const say: Say = {
  temp: (c) => `${c.toFixed(0)} °C`,
  volume: (l) => `${l.toFixed(0)} L`,
  mass: (kg) => `${kg.toFixed(0)} kg`,
  minutes: (m) => `${m.toFixed(0)} min`,
  ratio: (r) => `${r.toFixed(1)} L/kg`,
};

const file = new URL('../../../../examples/two-brews.json', import.meta.url);
const read = parseBrewFile(JSON.parse(readFileSync(file, 'utf8')));
if (!read.ok) throw new Error(JSON.stringify(read.errors));
const { documents } = read;
const kit = documents[0]?.kit as NonNullable<(typeof documents)[0]>['kit'];
const plans = documents.map((d) => planDay(d, { draws: 50, changes: false }));
const timetable = timetableOf(documents, plans, { draws: 50 });
const mashes = plans.map((p, k) => mashInDay(kit, p, timetable, k + 1, say));
const whole = withWork(together(mashes), kit, timetable, say);

describe('a day of two brews as one score', () => {
  it('holds every vessel anything is done in, and lasts to the last cleaning', () => {
    const vessels = new Set(timetable.activities.flatMap((a) => a.vessels));
    expect(new Set(whole.staves.map((s) => s.vessel))).toEqual(vessels);
    expect(whole.toMin).toBe(timetable.finishMin);
  });

  it('draws each mash where the timetable has it', () => {
    for (const [k, mash] of mashes.entries()) {
      const own = timetable.activities.find((a) => a.brew === k + 1 && a.moveId === 'mash-in');
      const tun = mash.staves.find((s) => s.vessel === 'tun');
      const from = tun?.stretches[0]?.timeMin[0] as number;
      expect(from).toBeGreaterThanOrEqual((own?.startMin as number) - 1);
      expect(from).toBeLessThanOrEqual(own?.endMin as number);
      for (const stretch of tun?.stretches ?? [])
        stretch.timeMin.slice(1).forEach((t, i) => {
          expect(t).toBeGreaterThanOrEqual(stretch.timeMin[i] as number);
        });
    }
  });

  it('carries run-off into the kettle, wort into the tank, and keeps sparge liquor hot enough', () => {
    const passes = whole.passes.map((p) => `${p.from} ${p.to} ${p.matter}`);
    expect(passes).toContain('tun kettle wort');
    expect(passes).toContain('kettle tank wort');
    const liquor = timetable.course?.lines.filter((l) => l.matter === 'liquor') ?? [];
    expect(liquor.length).toBeGreaterThan(0);
    // As it is used: within the window of the sparge.
    for (const used of liquor.filter((l) => l.timeMin.length > 2))
      expect(used.tempC.at(-1)).toBeGreaterThanOrEqual(74);
  });

  it('gives each pair of hands its work, never two things at once', () => {
    for (const { hand } of whole.hands) {
      const own = whole.busy.filter((b) => b.hand === hand).sort((a, b) => a.startMin - b.startMin);
      for (const [k, b] of own.slice(1).entries())
        expect(b.startMin, `${hand} ${b.text}`).toBeGreaterThanOrEqual(
          (own[k]?.endMin as number) - 1.01,
        );
    }
    expect(whole.busy.map((b) => b.text)).toEqual(expect.arrayContaining(['knock out', 'break']));
  });

  it('gives a move of the mash to whom the timetable gives it', () => {
    for (const a of timetable.activities.filter((x) => x.moveId !== undefined)) {
      const busy = a.hands.filter((h) => h.kind === 'busy').map((h) => h.id);
      const drawn = whole.busy.filter((b) => b.moveId === a.moveId && b.startMin === a.startMin);
      expect(drawn.map((b) => b.hand).sort(), a.id).toEqual(busy.sort());
    }
  });

  it('is laid out like any score', () => {
    const layout = {
      leftPx: 104,
      pxPerMin: 1.2,
      staveHeight: 96,
      staveGap: 12,
      fontPx: 14,
      namesAbove: false,
      startClockMin: 360,
    };
    const sheet = sheetOf(whole, layout);
    expect(sheet.height).toBe(heightOf(whole, layout));
    for (const stave of sheet.staves) for (const { d } of stave.lines) expect(d).not.toMatch(/NaN/);
  });

  it('can be moved to another minute 0', () => {
    const moved = later(whole, -60);
    expect(moved.toMin).toBe(whole.toMin - 60);
    expect(moved.passes[0]?.startMin).toBe((whole.passes[0]?.startMin as number) - 60);
  });
});
