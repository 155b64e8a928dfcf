import { describe, expect, it } from 'vitest';
import type { Beer, Mash } from './document.ts';
import { planDay } from './plan-day.ts';
import { ONE_PULL } from './three-barrels.ts';
import { outsideReasons } from './wort.ts';

const { beer, mash } = ONE_PULL;
const why = (change: Partial<Beer>, mashChange: Partial<Mash> = {}) =>
  outsideReasons({ ...beer, ...change }, { ...mash, ...mashChange }).join(' ');

// What holds and what does not: mash.md 9.
describe('where the figures do not hold', () => {
  it('a usual pale lager is inside', () => {
    expect(why({})).toBe('');
  });

  it.each([
    ['added enzymes', why({ addedEnzymes: true }), /^Enzymes were added/],
    ['cereal cooked apart', why({ cookedAdjunctKg: 5 }), /^Raw adjunct boiled without malt/],
    ['low pH', why({ mashPh: 5.1 }), /pH 5.1 is outside 5.2 to 5.8/],
    ['high pH', why({ mashPh: 5.9 }), /pH 5.9 is outside/],
    [
      'over 30 % malt without enzymes',
      why({ malts: [...beer.malts, { name: 'Caramel', kg: 32, type: 'caramel' }] }),
      /^Only 69 % of the grist brings enzymes/,
    ],
    [
      'a mash under 35 °C',
      why({}, { rests: [{ tempC: 33, minutes: 10 }, ...mash.rests] }),
      /stands at 33 °C: below 35 °C/,
    ],
    ['thinner than 5', why({}, { liquorLPerKg: 5.5 }), /thinner than 5 kg\/kg/],
    [
      'standing over 3 h',
      why({}, { rests: mash.rests.map((r) => ({ ...r, minutes: 100 })) }),
      /stands 200 min/,
    ],
  ])('%s', (_what, said, wanted) => {
    expect(said).toMatch(wanted);
  });

  it('cereal cooked apart counts as grist without enzymes', () => {
    // 72 kg of malt beside 40 kg: 64 %.
    expect(why({ cookedAdjunctKg: 40 })).toMatch(/Only 64 % .* Raw adjunct/);
  });

  it('the plan carries them', () => {
    const document = { ...ONE_PULL, beer: { ...beer, addedEnzymes: true } };
    expect(planDay(document, { draws: 50, changes: false }).wort?.outside).toEqual([
      'Enzymes were added: the model knows malt enzymes only, so attenuation does not hold.',
    ]);
  });
});
