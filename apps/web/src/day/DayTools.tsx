import type { BrewState } from '@ladlework/log';
import type { PlanDocument } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { mayPress, role } from '../data/access.ts';
import { attempt } from '../pages/trouble.tsx';
import { readKept, writeKept } from '../shell/kept.ts';
import { goTo } from '../shell/location.ts';
import { hashOf } from '../shell/route.ts';
import { dayMode, extractAs, pairName, who } from '../shell/settings.ts';
import { endBrew, writeNote } from './actions.ts';
import { DayAids } from './DayAids.tsx';
import { FirmButton } from './FirmButton.tsx';

const MODES = [
  { mode: 'full', text: 'Everything' },
  { mode: 'wall', text: 'For the wall' },
  { mode: 'pocket', text: 'For the pocket' },
] as const;

const EXTRACTS = [
  { as: 'plato', text: '°P' },
  { as: 'sg', text: 'SG' },
] as const;

/** How the page is laid out here, who signs, notes, the record, and the end of the brew. */
export function DayTools({ brew }: { brew: BrewState }) {
  const hands = (brew.document as PlanDocument | undefined)?.kit.hands ?? [];
  return (
    <section class="block daytools" aria-label="This page">
      {mayPress('note') ? (
        <NoteLine brew={brew} />
      ) : (
        <p>This device looks on: what is done and read is written by the others.</p>
      )}
      <div class="row">
        <span class="soft">Signed by</span>
        {hands.map((hand) => (
          <FirmButton
            key={hand.id}
            class="key"
            pressed={who.value === hand.id}
            onFirm={() => {
              who.value = hand.id;
            }}
          >
            {hand.id} {hand.name}
          </FirmButton>
        ))}
      </div>
      {role.value !== 'helper' && (
        <div class="row">
          {MODES.map(({ mode, text }) => (
            <FirmButton
              key={mode}
              class="key"
              pressed={dayMode.value === mode}
              onFirm={() => {
                dayMode.value = mode;
                document.getElementById('main')?.scrollTo({ top: 0 });
              }}
            >
              {text}
            </FirmButton>
          ))}
        </div>
      )}
      {pairName.value === 'us' && (
        <div class="row">
          <span class="soft">Extract in</span>
          {EXTRACTS.map(({ as, text }) => (
            <FirmButton
              key={as}
              class="key"
              pressed={extractAs.value === as}
              onFirm={() => {
                extractAs.value = as;
              }}
            >
              {text}
            </FirmButton>
          ))}
        </div>
      )}
      <div class="row">
        <a class="key link" href={hashOf({ at: 'record', id: brew.brew })}>
          Record
        </a>
        <a class="key link" href={hashOf({ at: 'plan', id: brew.brew })}>
          Plan
        </a>
        {mayPress('brew-ended') && <EndEarly brew={brew} />}
      </div>
      <DayAids />
    </section>
  );
}

function NoteLine({ brew }: { brew: BrewState }) {
  const key = `note.${brew.brew}`;
  const text = useSignal('');
  // Half a note survives a reload.
  useEffect(() => {
    text.value = readKept(key, '', (raw) => (typeof raw === 'string' ? raw : undefined));
  }, [key, text]);
  const type = (next: string) => {
    text.value = next;
    writeKept(key, next === '' ? undefined : next);
  };
  return (
    <form
      class="row noteline"
      onSubmit={(e) => {
        e.preventDefault();
        const said = text.value.trim();
        if (said === '') return;
        void attempt('write the note', () => writeNote(brew, said)).then((done) => {
          if (done) type('');
        });
      }}
    >
      <label class="vh" for="day-note">
        Note
      </label>
      <input
        id="day-note"
        maxLength={2000}
        placeholder="Note"
        value={text.value}
        onInput={(e) => type(e.currentTarget.value)}
      />
      <button type="submit" class="key">
        Write down
      </button>
    </form>
  );
}

/** A brew that is given up is ended by a second button in another place. */
function EndEarly({ brew }: { brew: BrewState }) {
  const asking = useSignal(false);
  const end = (reason: 'finished' | 'abandoned') => () =>
    attempt('end the brew', async () => {
      await endBrew(brew, reason, '');
      goTo({ at: 'record', id: brew.brew });
    });
  if (!asking.value)
    return (
      <FirmButton class="key" onFirm={() => (asking.value = true)}>
        End the brew
      </FirmButton>
    );
  return (
    <fieldset class="row ending" aria-label="End the brew">
      <FirmButton class="key" onFirm={() => (asking.value = false)}>
        Go on brewing
      </FirmButton>
      <FirmButton class="key" onFirm={end('finished')}>
        End: finished
      </FirmButton>
      <FirmButton class="key" onFirm={end('abandoned')}>
        End: given up
      </FirmButton>
    </fieldset>
  );
}
