import { describe, expect, it } from 'vitest';
import { unitPair } from './pair.ts';
import { gravitiesIn, sentenceIn } from './sentence.ts';

const us = unitPair('us');

describe('a sentence in the brewer’s units', () => {
  it.each([
    ['lands at about 67.2 °C.', 'lands at about 153.0 °F.'],
    ['a rest at 45-52 °C, or a decoction', 'a rest at 113-126 °F, or a decoction'],
    ['hold 50-55 °C no longer than 5-10 min', 'hold 122-131 °F no longer than 5-10 min'],
    ['turn down for the last 5 K, hose at hand', 'turn down for the last 9.0 °F, hose at hand'],
    ['the figures hold from 2 to 5 L/kg.', 'the figures hold from 0.96 to 2.40 qt/lb.'],
    ['9.2 kg a time, 5 times', '20.3 lb a time, 5 times'],
    ['a 60 L pot', 'a 15.9 gal pot'],
    ['would stand 0.5 m deep', 'would stand 19.7 in deep'],
    ['30 cm on the rod', '11.8 in on the rod'],
  ])('%s', (metric, american) => {
    expect(sentenceIn(metric, us)).toBe(american);
    expect(sentenceIn(metric, unitPair('metric'))).toBe(metric);
  });

  it.each([
    'beta-glucan 310 mg/L, over 275 (Ajib 2013; 250 common practice)',
    'viscosity 1.70 mPa s',
    'Kolbach index 34.0 %, under 36',
    'exposure limit 35 ppm over a shift',
    'Mash pH 5.9 is over 5.8',
    '4 kJ/K, 0.2 m² and 12 min',
    'Rest 2',
  ])('leaves %s as it is', (text) => {
    expect(sentenceIn(text, us)).toBe(text);
  });
});

describe('strengths in a sentence', () => {
  // A gravity of 4 points per °P, near enough to see which figure was turned over.
  const sgOf = (plato: number) => 1 + 0.004 * plato;
  const sg = unitPair('us', { extract: 'sg' });

  it('are gravities where the brewer counts in SG', () => {
    expect(gravitiesIn('Stop: the runnings are at 2.0 °P.', sg, sgOf)).toBe(
      'Stop: the runnings are at 1.008 SG.',
    );
  });

  it('stay °P otherwise, and differences stay differences', () => {
    expect(gravitiesIn('at 2.0 °P', us, sgOf)).toBe('at 2.0 °P');
    expect(gravitiesIn('0.4 °P under what is asked', sg, sgOf)).toBe('0.4 °P under what is asked');
    expect(gravitiesIn('weaker by 0.4 °P', sg, sgOf)).toBe('weaker by 0.4 °P');
  });
});
