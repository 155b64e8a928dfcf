/** Values begun on the pad and not yet read, kept on this device. */
import type { Kit } from '@ladlework/brewhouse';
import type { BrewState } from '@ladlework/log';
import { readKept } from '../shell/kept.ts';
import { pair } from '../shell/settings.ts';
import { type PadWhat, WHATS } from './boxes.ts';
import { padScale } from './pad-steps.ts';

/** Where a half-typed value is kept: brew, vessel and what is read, in the unit it is typed in. */
export const padKey = (keptAs: string, unit: string): string => `pad.${keptAs}.${unit}`;

/** Names a box of a brew for the pad. */
export const boxKey = (brew: string, vessel: string, what: PadWhat): string =>
  `${brew}.${vessel}.${what}`;

interface HalfTyped {
  readonly key: string;
  readonly vessel: string;
  readonly what: PadWhat;
  readonly text: string;
  readonly unit: string;
}

/** Every half-typed value of a brew in the units shown. */
export function halfTyped(brew: BrewState, kit: Kit | undefined): HalfTyped[] {
  return (kit?.vessels ?? []).flatMap((vessel) =>
    WHATS.flatMap(({ value: what }): HalfTyped[] => {
      if (what === 'iodine') return [];
      // Little is typed in gallons and much in barrels; either may have been begun.
      const units = [1, vessel.brimL].map((near) => padScale(what, pair.value, near).unit);
      return [...new Set(units)].flatMap((unit): HalfTyped[] => {
        const key = padKey(boxKey(brew.brew, vessel.id, what), unit);
        const text = readKept(key, '', (raw) => (typeof raw === 'string' ? raw : undefined));
        return text === '' ? [] : [{ key, vessel: vessel.id, what, text, unit }];
      });
    }),
  );
}
