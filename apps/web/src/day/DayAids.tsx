import { useEffect } from 'preact/hooks';
import { mayPress } from '../data/access.ts';
import { alarmReachText } from './alarm-reach.ts';
import { canSound } from './alarm-sound.ts';
import { FirmButton } from './FirmButton.tsx';
import { footSwitch } from './hardware-keys.ts';
import { ear, findEar, speech } from './listen.ts';
import { wipe } from './WipeLock.tsx';
import { awake } from './wake.ts';

/** What helps wet hands on this device, and how far an alarm reaches. */
export function DayAids() {
  useEffect(() => void findEar(), []);
  const on = footSwitch.value === 'on';
  return (
    <div class="dayaids">
      <div class="row">
        <FirmButton class="key" onFirm={wipe}>
          Wipe the screen
        </FirmButton>
        <FirmButton
          class="key"
          pressed={on}
          onFirm={() => {
            footSwitch.value = on ? 'off' : 'on';
          }}
        >
          Foot switch
        </FirmButton>
        {ear.value !== 'none' && mayPress('reading') && (
          <FirmButton
            class="key"
            pressed={speech.value === 'on'}
            onFirm={() => {
              speech.value = speech.value === 'on' ? 'off' : 'on';
            }}
          >
            Spoken numbers
          </FirmButton>
        )}
      </div>
      <p class="soft small">
        Space or Enter presses the large button; during a return one portion more, at an alarm Seen.
        {on &&
          ' So do the keys of foot switches for turning pages, and volume keys where the browser hands them on; most do not.'}
      </p>
      <p class="soft small">{EAR[ear.value]}</p>
      <p class="soft small">
        {alarmReachText({
          sounds: canSound(),
          shakes: 'vibrate' in navigator,
          staysOn: awake.value === 'on',
        })}
      </p>
    </div>
  );
}

/** Where spoken numbers are made out, said before anybody switches them on. */
const EAR: Readonly<Record<typeof ear.value, string>> = {
  asking: '',
  here: 'Spoken numbers, in English, are made out on this device; no sound leaves it.',
  away: 'Spoken numbers, in English: this browser sends what it hears to its maker to be made out. Without that network they do not work.',
  none: 'This browser cannot take spoken numbers.',
};
