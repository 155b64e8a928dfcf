import { expect, it } from 'vitest';
import { foldBeers, foldKits } from './shelf.ts';
import { Tablet } from './testing.ts';

const kit = (name: string) => ({ kit: { id: 'k1', name } });

it('L14 a kit is what was saved last', () => {
  const b = new Tablet('t1', 'B', 'kit:k1');
  const log = [b.write('kit-saved', kit('Old pot')), b.wait(5).write('kit-saved', kit('New pot'))];
  expect(foldKits(log.toReversed())).toMatchObject([
    { id: 'k1', item: { name: 'New pot' }, version: 2, retired: false },
  ]);
  expect(foldBeers(log)).toEqual([]);
});

it('L14 a beer keeps the mash it is brewed with', () => {
  const b = new Tablet('t1', 'B', 'beer:x1');
  const beer = { id: 'x1', name: 'Helles' };
  const save = b.write('beer-saved', { beer, mash: { layout: 'carry' }, kitId: 'k1' });
  expect(foldBeers([save])[0]).toMatchObject({
    item: beer,
    mash: { layout: 'carry' },
    kitId: 'k1',
  });
});

it('L14 a retired kit stays on the shelf, marked, until it is saved again', () => {
  const b = new Tablet('t1', 'B', 'kit:k1');
  const log = [b.write('kit-saved', kit('Pot')), b.wait(1).write('kit-retired', {})];
  expect(foldKits(log)[0]?.retired).toBe(true);
  const again = [...log, b.wait(1).write('kit-saved', kit('Pot'))];
  expect(foldKits(again)[0]?.retired).toBe(false);
});

it('L14 undoing a save brings back the one before; undoing the only one takes it off', () => {
  const b = new Tablet('t1', 'B', 'beer:x1');
  const first = b.write('beer-saved', { beer: { id: 'x1', name: 'Helles' } });
  const second = b.wait(1).write('beer-saved', { beer: { id: 'x1', name: 'Hells' } });
  const undo = (id: string) => b.write('withdrawn', { reason: 'slip' }, { corrects: id });
  expect(foldBeers([first, second, undo(second.id)])[0]?.item.name).toBe('Helles');
  expect(foldBeers([first, undo(first.id)])).toEqual([]);
});
