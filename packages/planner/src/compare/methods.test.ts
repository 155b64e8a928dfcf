import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { ONE_PULL, THREE_BARRELS, THREE_PULLS } from '../three-barrels.ts';
import { heatedVessels, METHODS, recipeFor, restsFor, singleRest } from './methods.ts';

function made(document: PlanDocument, method: Parameters<typeof recipeFor>[1]) {
  const recipe = recipeFor(document, method);
  if ('whyNot' in recipe) throw new Error(recipe.whyNot);
  return recipe;
}
const pullsIn = (d: PlanDocument) => d.mash.raises.filter((r) => r.by === 'decoction').length;

describe('rests of a way', () => {
  it('single infusion: mean of the rests that convert, by hand', () => {
    // (62 · 40 + 72 · 20) / 60
    expect(singleRest(ONE_PULL)).toEqual({ tempC: 3920 / 60, minutes: 60 });
    expect(singleRest(THREE_PULLS)).toEqual({ tempC: 64, minutes: 30 });
  });

  it('a rest put in comes off the handbooks’ ladder and adds no minutes', () => {
    const two = restsFor(
      [
        { tempC: 50, minutes: 20 },
        { tempC: 72, minutes: 30 },
      ],
      2,
    );
    expect(two.map((r) => [r.tempC, r.minutes])).toEqual([
      [50, 10],
      [63, 10],
      [72, 30],
    ]);
    const narrow = restsFor(ONE_PULL.mash.rests, 2);
    expect(narrow.map((r) => r.tempC)).toEqual([62, 67, 72]);
  });
});

describe('ways derived from the brewer’s plan', () => {
  it('the brewer’s own way is his own document, untouched', () => {
    expect(made(ONE_PULL, 'one-pull').document).toBe(ONE_PULL);
    expect(made(THREE_PULLS, 'three-pulls').document).toBe(THREE_PULLS);
  });

  it('keep grist, first and last rest and their number of pulls', () => {
    for (const document of [ONE_PULL, THREE_PULLS])
      for (const [count, method] of [
        [1, 'one-pull'],
        [2, 'two-pulls'],
        [3, 'three-pulls'],
      ] as const) {
        const way = made(document, method).document;
        expect(pullsIn(way), method).toBe(count);
        expect(way.beer).toBe(document.beer);
        expect(way.mash.rests[0]?.tempC).toBe(document.mash.rests[0]?.tempC);
        expect(way.mash.rests.at(-1)).toEqual(document.mash.rests.at(-1));
        expect(way.mash.raises.length).toBe(way.mash.rests.length - 1);
      }
  });

  it('what is no longer pulled is raised by liquor where no burner heats the tun', () => {
    // Steps of 15, 12 and 11 K: the widest is pulled.
    expect(made(THREE_PULLS, 'one-pull').document.mash.raises.map((r) => r.by)).toEqual([
      'decoction',
      'liquor',
      'liquor',
    ]);
  });

  it('direct heat goes to the kettle when the tun has no burner, and then over to the tun', () => {
    const { document, finish } = made(ONE_PULL, 'direct-heat');
    expect(document.mash.tun).toBe('kettle');
    expect(finish.map((m) => [m.kind, 'to' in m && m.to])).toEqual([['return', 'tun']]);
  });

  it('kettle mash parks in the brewer’s tun and boils in the kettle', () => {
    const { mash } = made(ONE_PULL, 'kettle-mash').document;
    expect([mash.layout, mash.tun, mash.park]).toEqual(['kettle-mash', 'kettle', 'tun']);
    expect(mash.raises[0]).toMatchObject({ by: 'decoction', pots: ['kettle'] });
    const back = made({ ...ONE_PULL, mash }, 'one-pull').document.mash;
    expect([back.layout, back.tun]).toEqual(['carry', 'tun']);
  });

  it('mash is not boiled in a liquor tank', () => {
    const vessels = THREE_BARRELS.vessels.map((v) =>
      v.id === 'kettle' ? { ...v, role: 'liquor-tank' as const } : v,
    );
    const kit = { ...THREE_BARRELS, vessels };
    expect(heatedVessels(THREE_BARRELS, 'tun').map((v) => v.id)).toEqual(['kettle', 'stock']);
    expect(heatedVessels(kit, 'tun').map((v) => v.id)).toEqual(['stock']);
  });

  it('a kit without a burner says why', () => {
    const cold = { ...ONE_PULL, kit: { ...THREE_BARRELS, burners: [] } };
    const asInfusion = { ...cold, mash: { ...cold.mash, raises: [{ by: 'liquor' as const }] } };
    for (const method of ['direct-heat', 'one-pull', 'kettle-mash'] as const)
      expect(recipeFor(asInfusion, method), method).toMatchObject({
        whyNot: expect.stringMatching(/burner/),
      });
    expect(METHODS).toHaveLength(8);
  });
});
