import { foldBrew, readingGate } from '@ladlework/log';
import { DAY_START_MS, ONE_PULL, Tablet } from '@ladlework/log/testing';
import type { PlanDocument } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { entriesOf } from './day-entries.ts';
import { parsePlanDocument } from './parse.ts';
import { probeEntries } from './probe-entries.ts';
import { exampleDocument, exampleProbe } from './testing.ts';

const parsed = parsePlanDocument(exampleDocument());
if (!parsed.ok) throw new Error('the example is wrong');
const document: PlanDocument = parsed.document;
const probe = exampleProbe({ kit: document.kit.id, vessel: 'tun' });
const BOIL_C = 99.2;
const minute = (n: number) => DAY_START_MS + n * 60_000;

function started() {
  const tablet = new Tablet('t1', 'B');
  const log = [
    tablet.write('brew-planned', { document, planSummary: ONE_PULL }),
    tablet.write('brew-started', { startAtMs: minute(0), clock: { utcOffsetMin: 0 } }),
  ];
  return { tablet, log };
}

/** One reading a second. */
const seconds = (fromMin: number, toMin: number, value: (min: number) => number) =>
  Array.from({ length: (toMin - fromMin) * 60 }, (_, s) => ({
    atMs: minute(fromMin) + 1000 * s,
    value: value(fromMin + s / 60),
  }));

describe('what the forecast is told of a probe', () => {
  const state = () => foldBrew(started().log, 'b1');

  it('one reading for each full five minutes, with what the probe may be off', () => {
    const samples = seconds(0, 22, (m) => 63 - 0.05 * m);
    const entries = probeEntries(state(), [{ probe, samples }], BOIL_C, minute(22));
    expect(entries.map((e) => (e.kind === 'reading' ? e.reading.atMin : 0))).toEqual(
      [5, 10, 15, 20].map((m) => m - 1 / 60),
    );
    expect(entries[0]).toMatchObject({
      id: `probe.p.${minute(5) - 1000}`,
      reading: { vessel: 'tun', what: 'temp', sd: 0.3, probe: { id: 'p', sd: probe.sd } },
    });
  });

  it('nothing from before the brew, of another kit, of a vessel that is gone, or not believed', () => {
    const told = (change: object, value = 63) =>
      probeEntries(
        state(),
        [{ probe: { ...probe, ...change }, samples: seconds(0, 10, () => value) }],
        BOIL_C,
        minute(10),
      );
    expect(told({})).toHaveLength(2);
    expect(told({ kit: 'another' })).toEqual([]);
    expect(told({ vessel: 'bath' })).toEqual([]);
    expect(told({ what: 'level' })).toEqual([]);
    expect(told({}, -127)).toEqual([]);
    const early = seconds(-20, 0, () => 63);
    expect(probeEntries(state(), [{ probe, samples: early }], BOIL_C, minute(10))).toEqual([]);
  });

  it('a number that was taken for a reading stays the probe’s, and is sure', () => {
    const { tablet, log } = started();
    const taken = tablet.wait(12).temp(62.4, { probe: 'p', sdK: 0.5 });
    const gate = tablet.write('gate-confirmed', { code: readingGate(taken.id) });
    const [entry] = entriesOf(foldBrew([...log, taken, gate], 'b1')).filter(
      (e) => e.kind === 'reading',
    );
    expect(entry).toMatchObject({
      confirmed: true,
      reading: { value: 62.4, sd: 0.3, probe: { id: 'p', sd: 0.5 } },
    });
  });
});
