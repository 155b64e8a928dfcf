import { describe, expect, it } from 'vitest';
import { RECOMMENDED_PARAMETERS } from '../../packages/brewhouse/src/mash/parameters.ts';
import { measuredRow } from '../../packages/brewhouse/src/mash/validation-rows.ts';
import { shippedMash } from '../../packages/brewhouse/src/mash/validation-runs.ts';
import { type Candidate, candidateMash, NOTHING_ADDED } from './candidate.ts';

/** A stand, a ramp, a thick mash, a cool one, and pulls boiled. */
const IDS = ['AAT-70', 'DH-x', 'HM-1', 'HM-3', 'MU-b60', 'MO-1'];

const answers = (candidate: Partial<Candidate>) => {
  const m = candidateMash(RECOMMENDED_PARAMETERS, { ...NOTHING_ADDED, ...candidate });
  return IDS.map((id) => measuredRow(id).value(m));
};
const shipped = IDS.map((id) => measuredRow(id).value(shippedMash(RECOMMENDED_PARAMETERS)));

describe('a candidate', () => {
  const nothing: [string, Partial<Candidate>][] = [
    ['with nothing added', {}],
    ['whose small granules open with the others', { smallShare: 0.3, smallLaterC: 0 }],
    ['whose erosion has the energy of opening', { erosionEnergy: RECOMMENDED_PARAMETERS.Eg }],
    ['slowed by nothing per %', { crowding: 1e-12 }],
    ['slowed by nothing per %, bounded', { crowding: 1e-12, crowdingLaw: 'bounded' }],
  ];
  it.each(nothing)('%s is the shipped kinetics', (_, candidate) => {
    answers(candidate).forEach((answer, i) => {
      expect(Math.abs(answer - shipped[i]!), IDS[i]).toBeLessThan(
        2e-5 * Math.max(1, Math.abs(shipped[i]!)),
      );
    });
  });

  it('whose small granules open later opens less of a thick mash', () => {
    expect(answers({ smallShare: 0.2, smallLaterC: 6 })[2]!).toBeLessThan(shipped[2]! - 2);
  });

  it('eroded at less cost opens more in the cool', () => {
    expect(answers({ erosionEnergy: 60_000 })[1]!).toBeLessThan(shipped[1]! - 10);
  });

  it('slowed by extract attenuates more where the wort is thinner than where it stands unslowed', () => {
    expect(answers({ crowding: 0.1, crowdingAtPct: 25 })[0]!).toBeGreaterThan(shipped[0]! + 1);
  });

  it('cannot have coarse pieces and small granules in the same slots', () => {
    const both = () =>
      candidateMash(
        RECOMMENDED_PARAMETERS,
        { ...NOTHING_ADDED, smallShare: 0.1 },
        { coarseShare: 0.1 },
      );
    expect(both).toThrow(/one of them/);
  });
});
