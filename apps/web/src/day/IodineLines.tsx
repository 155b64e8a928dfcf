import type { Kit } from '@ladlework/brewhouse';
import { nameIn } from '@ladlework/brewhouse';
import { chanceOfBlue } from '../units/iodine.ts';
import { clockOf, inPair } from '../units/show.ts';
import { FirmButton } from './FirmButton.tsx';
import type { IodineAsk } from './iodine.ts';
import type { RescueAnswer } from './useRescue.ts';

interface Props {
  readonly kit: Kit;
  readonly ask: IodineAsk;
  /** Nothing while it is worked out. */
  readonly rescue: RescueAnswer | undefined;
  readonly onTested: (blue: boolean) => void;
}

/** The iodine test on the card: asked for, answered with one tap, and what a blue one calls for. */
export function IodineLines({ kit, ask, rescue, onTested }: Props) {
  const name = nameIn(kit, ask.vessel);
  return (
    <fieldset class="iodine-lines" aria-label="Iodine test">
      {ask.blue === undefined ? (
        <p class="do-how">
          <b>Test {name} with iodine</b>{' '}
          {ask.chance !== undefined && <span class="soft">{chanceOfBlue(ask.chance)}</span>}
        </p>
      ) : (
        <>
          <p class="do-how">
            <b>
              {name} is blue at {clockOf(ask.blue.atMs)}
            </b>{' '}
            {ask.againAtMs !== undefined && (
              <span class="soft">
                {ask.due ? 'test again now' : `test again at ${clockOf(ask.againAtMs)}`}
              </span>
            )}
          </p>
          <p class="do-more" role="status">
            {rescueText(rescue)}
          </p>
        </>
      )}
      {ask.due && (
        <div class="row">
          <FirmButton
            class="key"
            writes="reading"
            label="Iodine: no blue"
            onFirm={() => onTested(false)}
          >
            No blue
          </FirmButton>
          <FirmButton
            class="key"
            writes="reading"
            label="Iodine: blue"
            onFirm={() => onTested(true)}
          >
            Blue
          </FirmButton>
        </div>
      )}
    </fieldset>
  );
}

function rescueText(rescue: RescueAnswer | undefined): string {
  if (rescue === undefined) return 'Working out what clears it.';
  if (rescue.found === undefined) return 'The forecast knows no mash there; nothing to advise.';
  return inPair(rescue.found.text);
}
