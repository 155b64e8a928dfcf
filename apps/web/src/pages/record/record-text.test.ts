import { afterEach, describe, expect, it } from 'vitest';
import { pairName } from '../../shell/settings.ts';
import { deviationText, quantityText } from './record-text.ts';

afterEach(() => {
  pairName.value = 'metric';
});

describe('figures of the record', () => {
  it('gives no sign to what rounds to nothing', () => {
    expect(deviationText('clock', -0.3)).toBe('±0 min');
    expect(deviationText('clock', 7.2)).toBe('+7 min');
    expect(deviationText('temp', -0.9)).toBe('−0.9 K');
    expect(deviationText('portions', -2)).toBe('−2');
  });

  it('follows the pair', () => {
    pairName.value = 'us';
    expect(quantityText('temp', 70)).toBe('158.0 °F');
    expect(deviationText('temp', 1)).toBe('+1.8 °F');
  });

  it('says iodine in words', () => {
    expect(quantityText('iodine', 1)).toBe('positive');
    expect(quantityText('iodine', 0)).toBe('negative');
  });
});
