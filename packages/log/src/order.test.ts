import fc from 'fast-check';
import { expect, it } from 'vitest';
import { canonicalJson, compareEvents, mergeEvents, sameContent } from './order.ts';
import { Tablet } from './testing.ts';

it('L1 content is compared whatever the order of keys', () => {
  const event = new Tablet('t1', 'B').temp(62);
  const turned = Object.fromEntries(Object.entries(event).reverse()) as typeof event;
  expect(sameContent(event, turned)).toBe(true);
  expect(sameContent(event, { ...event, who: 'H' })).toBe(false);
});

it('L1 a page that meets one id with two contents keeps the same one whichever came first', () => {
  const event = new Tablet('t1', 'B').temp(62);
  const other = { ...event, who: 'H' };
  expect(mergeEvents([event, other])).toEqual(mergeEvents([other], [event]));
  expect(mergeEvents([event, other])).toHaveLength(1);
});

it('L1 canonical text is JSON that reads back to the same value', () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      const back: unknown = JSON.parse(canonicalJson(value));
      expect(back).toEqual(JSON.parse(JSON.stringify(value)));
      expect(canonicalJson(back)).toBe(canonicalJson(value));
    }),
  );
  expect(() => canonicalJson(Number.NaN)).toThrow(TypeError);
});

it('L2 order is reading time, then device, then counter', () => {
  const a = new Tablet('a', 'B');
  const z = new Tablet('z', 'H');
  const [z1, a1, a2] = [z.temp(60), a.temp(61), a.temp(62)];
  const early = z.wait(-1).temp(59);
  expect([z1, a2, early, a1].sort(compareEvents)).toEqual([early, a1, a2, z1]);
  expect(compareEvents(a1, a1)).toBe(0);
});
