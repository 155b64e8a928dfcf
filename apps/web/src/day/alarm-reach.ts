/** What an alarm can do on this device, said plainly and without promises. Pure. */

export interface AlarmReach {
  /** A tone can be heard now; browsers give it after the first touch. */
  readonly sounds: boolean;
  /** The browser has a way to shake the device; computers have the way and nothing that shakes. */
  readonly shakes: boolean;
  /** Whether the screen is kept on. */
  readonly staysOn: boolean;
}

/**
 * One line for the foot of the day page.
 *
 * @param reach of this browser, as it stands now
 */
export function alarmReachText({ sounds, shakes, staysOn }: AlarmReach): string {
  return [
    `Alarms flash here${sounds ? ' and sound' : ''}${shakes ? ' and shake where the device can' : ''}.`,
    ...(sounds ? [] : ['No sound until the page was touched once.']),
    ...(shakes ? [] : ['This browser cannot shake the device.']),
    staysOn
      ? 'The screen stays on.'
      : 'The screen may go dark: set its own time to the longest and keep it plugged in.',
    'Behind a locked screen, another app or a shut page nothing rings; what was due stands here when the page is back.',
  ].join(' ');
}
