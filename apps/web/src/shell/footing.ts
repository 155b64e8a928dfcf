/** What this device can do at the address it came by, and what it goes without. Pure. */

/** As the browser says it. */
export interface Footing {
  /** https, or the server's own computer: what the browser takes for trusted. */
  readonly secure: boolean;
  readonly https: boolean;
  /** On the home screen, in a window of its own. */
  readonly installed: boolean;
  /** Whether a reload works with the server down. */
  readonly reload: 'asking' | 'yes' | 'no';
  /** Why not. */
  readonly reloadWhy?: string;
  /** Whether the browser has promised not to throw entries away; undefined where it does not say. */
  readonly persisted: boolean | undefined;
  readonly wakeLock: boolean;
  readonly vibrates: boolean;
}

/** The state in a few words, for the line under the headings. */
export function footingText(f: Footing): string {
  if (!f.secure) return 'plain http: not for a whole day';
  if (f.reload === 'no') return f.https ? 'https, not trusted yet' : 'kept by the server only';
  return f.installed ? 'secure and installed' : 'secure';
}

export interface Ability {
  readonly what: string;
  /** undefined: the browser does not say. */
  readonly works: boolean | undefined;
  /** What it means here, and what to do where it does not work. */
  readonly say: string;
}

/** Everything a brew day leans on, worst last. */
export function abilities(f: Footing): Ability[] {
  const trust = f.secure ? '' : ' Trust this brewhouse and open the page by https.';
  return [
    {
      what: 'Readings and taps are kept here',
      works: true,
      say: 'Written through on this device before the tap is answered; sent when the server is there.',
    },
    {
      what: 'Nobody listens in',
      works: f.secure,
      say: f.secure
        ? f.https
          ? 'The line is closed by the brewery’s own certificate.'
          : 'The server is on this computer.'
        : `Anybody on this network can read along and pose as this device.${trust}`,
    },
    {
      what: 'The page opens with the server off',
      works: f.reload === 'asking' ? undefined : f.reload === 'yes',
      say:
        f.reload === 'yes'
          ? 'The whole page is kept here, for days.'
          : f.reload === 'asking'
            ? 'Being prepared.'
            : `${sentence(f.reloadWhy ?? 'This browser keeps no page')} Do not reload or close it while the server is off.${trust}`,
    },
    {
      what: 'The screen stays on while a brew runs',
      works: f.wakeLock,
      say: f.wakeLock
        ? 'Unless the battery is nearly empty.'
        : `Set the device’s own screen time to its longest.${trust}`,
    },
    {
      what: 'The browser keeps entries for good',
      works: f.persisted,
      say:
        f.persisted === true
          ? 'It has promised to.'
          : f.persisted === false
            ? 'It may throw them away when it needs room, some after a week unused. Install the page, and let the server have the entries soon.'
            : `It does not say.${trust}`,
    },
    {
      what: 'Installed',
      works: f.installed,
      say: f.installed
        ? 'In a window of its own, from the home screen.'
        : f.secure
          ? 'With the button below, or the browser’s own “Add to Home Screen” or “Install”.'
          : `Not at this address.${trust}`,
    },
    {
      what: 'Alarms',
      works: undefined,
      say: `They sound and flash${f.vibrates ? ' and shake' : ''} while the page is on the screen. No browser rings for a page that is shut or a screen that is locked: keep it open, plugged in.`,
    },
  ];
}

/** Of which the brewer should know before a day begins. */
export function missing(f: Footing): number {
  return abilities(f).filter((a) => a.works === false).length;
}

const sentence = (text: string) =>
  `${text.slice(0, 1).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;
