import type { LandingForecast, ReturnGuide } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { forecastLine } from './forecast-text.ts';
import { guideHead, keepBack, ofAll, oneMore, portionText, soFar } from './guide-text.ts';

const around = (likely: number, half: number) => ({
  low: likely - half,
  likely,
  high: likely + half,
});

const LANDING: LandingForecast = {
  pull: 1,
  returnId: 'return-1',
  stage: 'out',
  now: around(70.8, 0.7),
  in10Min: around(70.1, 0.7),
  withAllNow: around(72.6, 0.7),
  withAllIn10Min: around(71.9, 0.7),
  asPlanned: around(72, 0.4),
  returnAtMin: around(150, 4),
  targetC: 72,
  tunNowC: around(61, 0.4),
  potNowC: around(98, 1),
  arrivalC: around(91, 2),
  needL: around(118, 6),
  needPortions: around(11.8, 0.6),
  haveL: 130,
  chance: 0.93,
};

const say = {
  temp: (c: number) => c.toFixed(1),
  band: (b: { low: number; likely: number; high: number }) =>
    `${b.likely.toFixed(1)} ± ${((b.high - b.low) / 2).toFixed(1)}`,
  target: (c: number) => c.toFixed(0),
  volume: (l: number) => `${l.toFixed(0)} L`,
  portions: (n: number) => portionText(n, 'bucket'),
  clock: (minute: number) => `${Math.floor(minute / 60)}:${minute % 60}`,
};

describe('the landing on the card', () => {
  it('says where it lands as planned, now and in ten minutes, and what makes the target', () => {
    expect(forecastLine(LANDING, true, say)).toEqual({
      lead: 'return 1 lands 2:30 →',
      lands: '72.0 ± 0.4',
      wanted: 'wanted 72',
      now: 'return now → 70.8 ± 0.7; in 10 min → 70.1',
      need: '118 L, 11.8 buckets make 72',
      reaches: true,
    });
  });

  it('speaks of the pull while the mash is all in the tun', () => {
    expect(forecastLine({ ...LANDING, stage: 'before' }, true, say).now).toMatch(/^pull now/);
    expect(forecastLine({ ...LANDING, stage: 'before' }, false, say).now).toBeUndefined();
  });

  it('warns when all there is does not reach the rest', () => {
    const short = {
      ...LANDING,
      needL: around(130, 0),
      asPlanned: around(70.2, 0.5),
      chance: 0.31,
    };
    const line = forecastLine(short, true, say);
    expect(line.reaches).toBe(false);
    expect(line.need).toBe('all 130 L would go back; chance 31 %');
    expect(line.now).toBe('return now → 72.6 ± 0.7; in 10 min → 71.9');
  });
});

const GUIDE: ReturnGuide = {
  tunC: 69.1,
  portionsDone: 4,
  morePortions: 2,
  fromStart: false,
  moreL: around(23, 4),
  afterC: around(70.4, 0.5),
  targetC: 70,
  keepBackL: 34,
  action: 'add',
  text: '',
};

describe('the guide on the card', () => {
  it('counts in what is carried', () => {
    expect(guideHead(GUIDE, 'bucket')).toBe('2 more buckets, then stir');
    expect(guideHead({ ...GUIDE, morePortions: 1 }, 'ladle')).toBe('1 more ladle, then stir');
    expect(guideHead({ ...GUIDE, fromStart: true }, 'bucket')).toBe('First 2 buckets, then stir');
    expect(guideHead({ ...GUIDE, moreSeconds: 150 }, 'pump')).toBe('2 min 30 s more, then stir');
    expect(guideHead({ ...GUIDE, moreSeconds: 40 }, 'pump')).toBe('40 s more, then stir');
    expect(oneMore('bucket', 'in')).toBe('1 bucket in');
    expect(oneMore('ladle', 'out')).toBe('1 ladle out');
    expect(oneMore('pump', 'in')).toBe('1 min in');
    expect(soFar(4, 'pump', 'out')).toBe('4 min out');
    expect(soFar(4, 'bucket', 'in')).toBe('4 buckets in');
    expect(ofAll(3, 52.2, { how: 'bucket', litres: 6 }, 'out')).toBe('3 of 8.7 buckets out');
    expect(ofAll(0, 198, { how: 'pump', litres: 22 }, 'out')).toBe('0 of 9 min out');
  });

  it('stops, and asks for a reading', () => {
    const stop = { ...GUIDE, action: 'stop', morePortions: 0 } as const;
    expect(guideHead({ ...stop, tunC: 69.8 }, 'bucket')).toMatch(/^Stop/);
    expect(guideHead({ ...stop, tunC: 66 }, 'bucket')).toMatch(/^All of it is in/);
    expect(guideHead({ ...GUIDE, action: 'read', morePortions: 0 }, 'bucket')).toMatch(/read$/);
  });

  it('keeps back whole buckets, litres of a pump, or nothing', () => {
    const volume = (l: number) => `${l} L`;
    expect(keepBack(GUIDE, { how: 'bucket', litres: 11 }, volume)).toBe(
      'keep 3 buckets back, lid on',
    );
    expect(keepBack(GUIDE, { how: 'pump', litres: 22 }, volume)).toBe('keep 34 L back, lid on');
    expect(keepBack({ ...GUIDE, keepBackL: 0.4 }, { how: 'bucket', litres: 11 }, volume)).toBe(
      'nothing is kept back',
    );
  });
});
