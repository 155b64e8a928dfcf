import type { Offer } from '@ladlework/planner';
import { expect, it } from 'vitest';
import { parsePricesFile } from './prices-file.ts';

it('reads prices and every kind of change, with units', () => {
  const changes: readonly object[] = [
    { what: 'burner-power', burner: 'jet', ratedKW: '200000 BTU/h' },
    { what: 'pot-volume', vessel: 'pot', brimL: '20 gal' },
    { what: 'insulation', vessel: 'tun', lossWK: '3 W/K' },
    { what: 'second-pot', like: 'pot' },
    { what: 'pump', litresPerMin: '4 gal/min' },
    { what: 'jacket', vessel: 'tun', netKW: 12 },
    { what: 'helper' },
    { what: 'altitude', altitudeM: '5280 ft' },
    { what: 'batch-size', factor: 1.5 },
  ];
  const offers = changes.map((change) => ({ change, price: 100 }));
  const read = parsePricesFile({ prices: { labourPerHour: '$28/h' }, offers });
  if (!read.ok) throw new Error(read.errors.map((e) => e.message).join('\n'));
  expect(read.file.prices?.labourPerHour).toBe(28);
  const change = (n: number) => (read.file.offers as readonly Offer[])[n]?.change;
  expect(change(1)).toMatchObject({ brimL: expect.closeTo(75.708, 3) }); // NIST SP 811
  expect(change(7)).toMatchObject({ altitudeM: expect.closeTo(1609.344, 6) }); // NIST SP 811
});

it.each([
  [{ offers: [{ change: { what: 'magic' } }] }, 'offers[0].change.what'],
  [{ offers: [{ change: { what: 'helper' }, price: -1 }] }, 'offers[0].price'],
  [{ offers: [{ change: { what: 'batch-size', factor: 9 } }] }, 'offers[0].change.factor'],
  [{ price: {} }, 'price'],
])('%j is refused at %s', (json, field) => {
  const read = parsePricesFile(json);
  expect(read.ok ? '' : read.errors[0]?.field).toBe(field);
});
