import { describe, expect, it } from 'vitest';
import { nextBox, pointNow, withItsTwin } from './boxes.ts';

type Reads = Parameters<typeof nextBox>[1];
const mark = { eventId: 'e', headId: 'e', atMs: 0, enteredAtMs: 0, who: 'B', device: 'd' };
const reads = (...figures: object[]): Reads =>
  figures.map((f) => ({ ...mark, point: 'run-off', text: '', standing: 'holds', ...f })) as Reads;

describe('the box the pad of the wort stands at', () => {
  it('is the first before anything was read', () => {
    expect(nextBox('run-off', []).figure).toBe('litres');
    expect(nextBox('kettle-full', []).figure).toBe('tempC');
  });

  it('follows the one read last, and begins again after the last', () => {
    expect(nextBox('run-off', reads({ litres: 120 })).figure).toBe('plato');
    expect(nextBox('run-off', reads({ litres: 120 }, { flowLMin: 5 })).figure).toBe('litres');
    expect(nextBox('kettle-full', reads({ ph: 5.2, phC: 20 })).figure).toBe('tempC');
  });

  it('goes on from the litres when they carry their temperature', () => {
    expect(nextBox('kettle-full', reads({ tempC: 75 })).figure).toBe('litres');
    expect(nextBox('kettle-full', reads({ tempC: 75 }, { litres: 480, tempC: 75 })).figure).toBe(
      'plato',
    );
  });
});

describe('litres of hot wort and their temperature', () => {
  it('go into the log together, whichever was read first', () => {
    const litres = reads({ litres: 480 });
    expect(withItsTwin('tempC', 75, 'kettle-full', litres)).toEqual({ tempC: 75, litres: 480 });
    const warm = reads({ tempC: 75 });
    expect(withItsTwin('litres', 480, 'kettle-full', warm)).toEqual({ litres: 480, tempC: 75 });
  });

  it('stand alone where nothing was read beside them, and during the run-off', () => {
    expect(withItsTwin('litres', 480, 'kettle-full', [])).toEqual({ litres: 480 });
    expect(withItsTwin('litres', 200, 'run-off', reads({ tempC: 70 }))).toEqual({ litres: 200 });
  });

  it('leave a pH its cooled sample', () => {
    expect(withItsTwin('ph', 5.2, 'kettle-full', [])).toEqual({ ph: 5.2, phC: 20 });
  });
});

describe('where wort is read', () => {
  const boil = { endMin: { low: 590, likely: 600, high: 610 } } as never;

  it('is nowhere in the middle of the boil, and the kettle towards its end', () => {
    expect(pointNow({ at: 'boil', boil }, 560)).toBeUndefined();
    expect(pointNow({ at: 'boil', boil }, 592)).toBe('cast-out');
  });

  it('follows the wort', () => {
    expect(pointNow({ at: 'run-off', boil }, 1)).toBe('run-off');
    expect(pointNow({ at: 'tank', boil }, 1)).toBe('tank');
    expect(pointNow({ at: 'pitched', boil }, 1)).toBeUndefined();
  });
});
