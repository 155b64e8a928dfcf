import { describe, expect, it } from 'vitest';
import { alarmReachText } from './alarm-reach.ts';

describe('what an alarm can do', () => {
  it.each([true, false])('never promises a locked screen (screen kept on: %s)', (staysOn) => {
    const said = alarmReachText({ sounds: true, shakes: true, staysOn });
    expect(said).toContain('locked screen');
    expect(said).toContain('nothing rings');
  });

  it('names what this browser lacks', () => {
    const said = alarmReachText({ sounds: false, shakes: false, staysOn: false });
    expect(said).toContain('No sound until');
    expect(said).toContain('cannot shake');
    expect(said).toContain('may go dark');
    expect(said).not.toContain('and sound');
  });
});
