import type { Kit, Vessel } from '@ladlework/brewhouse';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newKit, newVessel } from './kit-defaults.ts';
import { fitMash, newMash, withoutRest, withRest } from './mash-fit.ts';

const vessel = (kit: Kit, role: Vessel['role']): Kit => ({
  ...kit,
  vessels: [...kit.vessels, newVessel(kit, role)],
});

describe('a mash set onto a kit', () => {
  it('rests in the tun and boils in the kettle of a two-vessel house', () => {
    const kit = newKit('k');
    const mash = fitMash(newMash(), kit);
    expect(mash.tun).toBe('mash-tun');
    expect(mash.liquorVessel).toBe('kettle');
    expect(mash.raises[0]).toMatchObject({ by: 'decoction', pots: ['kettle'] });
  });

  it('mashes in the kettle and parks in the tun when asked to', () => {
    const kit = newKit('k');
    const mash = fitMash({ ...newMash(), layout: 'kettle-mash' }, kit);
    expect(mash.tun).toBe('kettle');
    expect(mash.park).toBe('mash-tun');
    expect(mash.raises[0]).toMatchObject({ pots: ['kettle'] });
  });

  it('keeps what already names a vessel of the kit', () => {
    const kit = vessel(newKit('k'), 'pot');
    const withPot: Kit = {
      ...kit,
      burners: kit.burners.map((b) => ({ ...b, heats: [...b.heats, 'pot'] })),
    };
    const asked = newMash();
    const raise = asked.raises[0];
    if (raise?.by !== 'decoction') throw new Error('a new mash starts with a pull');
    const mash = fitMash({ ...asked, raises: [{ ...raise, pots: ['pot'] }] }, withPot);
    expect(mash.raises[0]).toMatchObject({ pots: ['pot'] });
  });
});

describe('rests', () => {
  it('always have one raise fewer, whatever is added and taken away', () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(fc.constant('add'), fc.nat(3))), (steps) => {
        let mash = newMash();
        for (const step of steps) {
          mash =
            step === 'add'
              ? withRest(mash)
              : withoutRest(mash, Math.min(Number(step), mash.rests.length - 1));
          if (mash.rests.length === 0) break;
          expect(mash.raises.length).toBe(mash.rests.length - 1);
        }
      }),
    );
  });
});
