import { describe, expect, it } from 'vitest';
import { abilities, type Footing, footingText, missing } from './footing.ts';

const INSTALLED: Footing = {
  secure: true,
  https: true,
  installed: true,
  reload: 'yes',
  persisted: true,
  wakeLock: true,
  vibrates: true,
};
const PLAIN: Footing = {
  secure: false,
  https: false,
  installed: false,
  reload: 'no',
  reloadWhy: 'the address is not a trusted one',
  persisted: undefined,
  wakeLock: false,
  vibrates: true,
};

describe('the state of a device', () => {
  it('is said in a few words', () => {
    expect(footingText(INSTALLED)).toBe('secure and installed');
    expect(footingText({ ...INSTALLED, installed: false })).toBe('secure');
    expect(footingText({ ...INSTALLED, reload: 'no' })).toBe('https, not trusted yet');
    expect(footingText(PLAIN)).toMatch(/^plain http/);
  });

  it('by plain http names all that is missing, and what works all the same', () => {
    const not = abilities(PLAIN).filter((a) => a.works === false);
    expect(not.map((a) => a.what)).toEqual([
      'Nobody listens in',
      'The page opens with the server off',
      'The screen stays on while a brew runs',
      'Installed',
    ]);
    for (const a of not) expect(a.say).toMatch(/Trust this brewhouse/);
    expect(abilities(PLAIN)[0]).toMatchObject({ works: true });
    expect(missing(PLAIN)).toBe(4);
    expect(missing(INSTALLED)).toBe(0);
  });

  it('says where entries may be thrown away, and never promises alarms of a shut page', () => {
    const say = (f: Footing, what: string) => abilities(f).find((a) => a.what === what)?.say;
    expect(say({ ...INSTALLED, persisted: false }, 'The browser keeps entries for good')).toMatch(
      /may throw them away/,
    );
    expect(say(INSTALLED, 'Alarms')).toMatch(/No browser rings for a page that is shut/);
  });
});
