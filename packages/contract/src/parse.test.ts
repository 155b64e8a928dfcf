import type { Beer, PlanDocument } from '@ladlework/planner';
import fc from 'fast-check';
import type * as v from 'valibot';
import { describe, expect, expectTypeOf, it } from 'vitest';
import type {
  BeerSchema,
  DaySchema,
  KitSchema,
  MashSchema,
  PlanDocumentSchema,
} from './brew-file.ts';
import { parseBeer, parseBrewFile, parseKit, parsePlanDocument } from './parse.ts';
import { exampleDocument } from './testing.ts';

type Mutable<T> = T extends readonly (infer I)[]
  ? Mutable<I>[]
  : T extends object
    ? { -readonly [K in keyof T]: Mutable<T[K]> }
    : T;

function parsed(json: unknown): PlanDocument {
  const result = parsePlanDocument(json);
  if (!result.ok) throw new Error(result.errors.map((e) => e.message).join('\n'));
  return result.document;
}

/** The example with the value at a path replaced, or taken away. */
function changed(path: string, value: unknown): unknown {
  const document = exampleDocument();
  const steps = path.split('.');
  const last = steps.pop() ?? '';
  let at: Record<string, unknown> = document;
  for (const step of steps) at = at[step] as Record<string, unknown>;
  if (value === undefined) delete at[last];
  else at[last] = value;
  return document;
}

function errorsOf(json: unknown) {
  const result = parsePlanDocument(json);
  return result.ok ? [] : result.errors;
}

it('the brew file has the fields of the planner’s types, no more and no fewer', () => {
  expectTypeOf<Mutable<v.InferOutput<typeof KitSchema>>>().toEqualTypeOf<
    Mutable<PlanDocument['kit']>
  >();
  expectTypeOf<Mutable<v.InferOutput<typeof BeerSchema>>>().toEqualTypeOf<Mutable<Beer>>();
  expectTypeOf<Mutable<v.InferOutput<typeof MashSchema>>>().toEqualTypeOf<
    Mutable<PlanDocument['mash']>
  >();
  expectTypeOf<Mutable<v.InferOutput<typeof DaySchema>>>().toEqualTypeOf<
    Mutable<PlanDocument['day']>
  >();
  expectTypeOf<Mutable<Omit<v.InferOutput<typeof PlanDocumentSchema>, '$schema'>>>().toEqualTypeOf<
    Mutable<PlanDocument>
  >();
});

it('prices and lots in store in the money of the price list, by weight as the maltster sells', () => {
  const document = parsed({
    ...exampleDocument(),
    prices: { currency: '$', labourPerHour: '$28/h', energyPerKWh: { gas: '$1.20/therm' } },
    stock: [{ name: 'Munich malt', type: 'base', pricePerKg: '$0.64/lb', bagKg: '55 lb' }],
  });
  // Therm 105.4804 MJ, pound 0.45359237 kg: NIST SP 811.
  expect(document.prices?.energyPerKWh?.gas).toBeCloseTo(1.2 / (105.4804 / 3.6), 9);
  expect(document.prices?.labourPerHour).toBe(28);
  expect(document.stock?.[0]?.pricePerKg).toBeCloseTo(0.64 / 0.45359237, 9);
  expect(document.stock?.[0]?.bagKg).toBeCloseTo(24.9476, 4);
  expect(parsed(exampleDocument())).not.toHaveProperty('prices');
  const wrong = { ...exampleDocument(), prices: { maltPerKg: '1 euro' } };
  expect(errorsOf(wrong)[0]?.field).toBe('prices.maltPerKg');
});

it('text with units becomes SI', () => {
  const { kit, beer, mash, day } = parsed(exampleDocument());
  expect(kit.vessels[1]?.brimL).toBeCloseTo(189.2706, 4); // US gallon 3.785411784 L, NIST SP 811
  expect(kit.vessels[1]?.diameterM).toBeCloseTo(0.6096, 9);
  expect(kit.burners[0]?.efficiency).toBeCloseTo(0.45, 12);
  expect(kit.hands[1]?.untilMin).toBe(300);
  expect(beer.malts[1]?.kg).toBeCloseTo(1.81437, 5); // pound 0.45359237 kg, NIST SP 811
  expect(beer.malts[0]?.certificate?.moisturePct).toBe(4.4);
  expect(mash.liquorLPerKg).toBe(3.5);
  expect(mash.reserve).toBeCloseTo(0.15, 12);
  expect(day.startMin).toBe(360);
});

it('a document in SI reads back to itself', () => {
  const once = parsed(exampleDocument());
  expect(parsed(JSON.parse(JSON.stringify(once)))).toEqual(once);
});

it.each([
  ['kit.vessels.0.brimL', '3 parsecs', 'wrong-type', '1 L to 20000 L'],
  ['kit.vessels.0.brimL', '90000 L', 'out-of-range', '1 L to 20000 L'],
  ['kit.vessels.0.brimL', null, 'wrong-type', '1 L to 20000 L'],
  ['kit.vessels.0.brimL', undefined, 'missing', '1 to 20000 L'],
  ['kit.vessels.0.lid', 'yes', 'wrong-type', 'true or false'],
  ['kit.vessels.0.role', 'bath', 'not-allowed', 'kettle'],
  ['kit.vessels.0.id', 'a b', 'not-allowed', 'letters, digits'],
  ['kit.vessels.0.id', 'constructor', 'not-allowed', 'JavaScript'],
  ['kit.vessels.0.wallKJK', '9 kJ', 'wrong-type', '0 to 5000 kJ/K'],
  ['kit.vessels.0.brimm', 3, 'unknown-field', 'brimL'],
  ['kit.burners.0.efficiency', '450 %', 'out-of-range', '0.05 to 1'],
  ['kit.name', '   ', 'not-allowed', 'blank'],
  ['kit.name', 'a\u0007b', 'not-allowed', 'control'],
  ['kit.altitudeM', '9000 m', 'out-of-range', '-500 m to 5000 m'],
  ['beer.malts', [], 'not-allowed', 'fewer than 1'],
  ['beer.mashPh', 'sour', 'wrong-type', '4.8 to 6.5'],
  ['mash.rests.0.tempC', '120 °C', 'out-of-range', '30 °C to 85 °C'],
  ['mash.raises.0.by', 'prayer', 'not-allowed', 'decoction'],
  ['mash.raises.0.thickness', 'soupy', 'wrong-type', 'thick'],
  ['mash.raises.0.thickness', { liquorLPerKg: 99 }, 'out-of-range', '0.5 L/kg to 20 L/kg'],
  ['day.startMin', '25:00', 'wrong-type', '00:00 to 23:59'],
  ['day.startMin', 1e9, 'wrong-type', '00:00 to 23:59'],
  ['day', undefined, 'missing', 'an object'],
] as const)('%s = %j is refused: %s', (path, value, code, allowed) => {
  const errors = errorsOf(changed(path, value));
  expect(errors).toHaveLength(1);
  const [error] = errors;
  expect(error?.code).toBe(code);
  expect(error?.allowed).toContain(allowed);
  const field = path.replaceAll(/\.(\d+)/g, '[$1]');
  expect(error?.field).toContain(field);
  expect(error?.message).toContain(error?.field);
});

it('the message names the thing by the name its owner gave it', () => {
  const [error] = errorsOf(changed('kit.vessels.1.deadL', 'much'));
  expect(error?.message).toMatch(/^kit\.vessels\[1\]\.deadL \(Kettle\): "much" does not begin/);
});

it('every mistake is told at once, but not more than can be read', () => {
  const document = exampleDocument();
  const two = { ...document, day: { ...document.day, liquorC: 'cold', gristC: 'warm' } };
  expect(errorsOf(two).map((e) => e.field)).toEqual(['day.liquorC', 'day.gristC']);
  const many = { ...document, beer: { ...document.beer, malts: Array(40).fill({}) } };
  expect(errorsOf(many)).toHaveLength(40);
});

describe('a file of several brews', () => {
  const two = () => {
    const { kit, beer, mash, day } = exampleDocument();
    return { kit, brews: [structuredClone({ beer, mash, day }), { beer, mash, day }] };
  };
  const fieldsOf = (json: unknown) => {
    const result = parseBrewFile(json);
    return result.ok ? [] : result.errors.map((e) => e.field);
  };

  it('is a document for each, over the one kit', () => {
    const result = parseBrewFile(two());
    const one = parsePlanDocument(exampleDocument());
    expect(result.ok && one.ok && result.documents).toEqual(
      one.ok ? [one.document, one.document] : undefined,
    );
    expect(parseBrewFile(exampleDocument())).toEqual(
      one.ok ? { ok: true, documents: [one.document] } : undefined,
    );
  });

  it('is told where a mistake stands, and of the kit only once', () => {
    const file = two();
    Object.assign(file.brews[1]?.mash as object, { tun: 'copper' });
    expect(fieldsOf(file)).toEqual(['brews[1].mash.tun']);
    const sameIds = two();
    Object.assign(sameIds.kit.burners[0] as object, { id: 'tun' });
    expect(fieldsOf(sameIds)).toEqual(['kit.burners[0].id']);
    expect(fieldsOf({ ...two(), brews: [] })).toEqual(['brews']);
  });

  it('has one minute 0', () => {
    const file = two();
    Object.assign(file.brews[1]?.day as object, { startMin: '09:00' });
    expect(fieldsOf(file)).toEqual(['brews[1].day.startMin']);
  });
});

it('a kit and a beer can be checked by themselves', () => {
  const { kit, beer } = exampleDocument();
  expect(parseKit(kit).ok).toBe(true);
  expect(parseKit({ ...kit, hands: [] }).ok).toBe(false);
  expect(parseBeer(beer).ok).toBe(true);
  expect(parseBeer({ ...beer, id: 3 }).ok).toBe(false);
});

it('keys that reach into prototypes change nothing and are refused', () => {
  const hostile: unknown = JSON.parse(
    '{"__proto__":{"polluted":1},"kit":{"__proto__":{"polluted":1}},"constructor":{"prototype":{"polluted":1}}}',
  );
  expect(parsePlanDocument(hostile).ok).toBe(false);
  expect(({} as Record<string, unknown>).polluted).toBeUndefined();
});

it('whatever is sent, the answer is a document or errors that name a field', () => {
  const paths = ['kit', 'kit.vessels.0.brimL', 'beer.malts.0', 'mash.raises.0', 'day.startMin'];
  fc.assert(
    fc.property(fc.constantFrom(...paths), fc.jsonValue(), (path, value) => {
      const result = parsePlanDocument(changed(path, value));
      if (result.ok) return;
      expect(result.errors.length).toBeGreaterThan(0);
      for (const e of result.errors) {
        expect(e.field).not.toBe('');
        expect(e.message.length).toBeLessThan(600);
      }
    }),
  );
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      expect(parsePlanDocument(value).ok).toBe(false);
    }),
  );
});

it('long hostile text is refused quickly', () => {
  const long = `${' '.repeat(200_000)}1${'e'.repeat(200_000)}`;
  const started = performance.now();
  for (const path of ['kit.name', 'kit.vessels.0.wallKJK', 'kit.vessels.0.id', 'day.startMin']) {
    expect(errorsOf(changed(path, long))).not.toHaveLength(0);
  }
  expect(performance.now() - started).toBeLessThan(500);
});
