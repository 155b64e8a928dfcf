import type { Kit } from '@ladlework/brewhouse';
import { nameIn } from '@ladlework/brewhouse';
import type { BrewState } from '@ladlework/log';
import { deviceId } from '../data/house.ts';
import { attempt } from '../pages/trouble.tsx';
import { clockOf, show, showBand } from '../units/show.ts';
import { keepReading, withdraw } from './actions.ts';
import { FirmButton } from './FirmButton.tsx';
import type { OddDone, OpenQuestion } from './open-question.ts';

interface Props {
  readonly brew: BrewState;
  readonly kit: Kit;
  readonly open: OpenQuestion;
}

/** A reading that does not fit is kept, asked about once more, and not believed until then. */
export function Question({ brew, kit, open }: Props) {
  const { reading, expected } = open;
  const kind = reading.what === 'volume' ? 'volume' : 'temperature';
  const digits = kind === 'temperature' ? 1 : 0;
  const said = show(kind, reading.value, digits);
  return (
    <section class="doubt" role="alert">
      <p>
        <b>
          {nameIn(kit, reading.vessel)} {said} does not fit.
        </b>{' '}
        Expected {showBand(kind, expected, digits)}. It is kept, and the forecast goes on without
        it. Stir and read again.
      </p>
      <div class="row">
        <FirmButton
          class="key"
          writes="gate-confirmed"
          onFirm={() => attempt('keep the reading', () => keepReading(brew, reading.eventId))}
        >
          {said} is right
        </FirmButton>
        <FirmButton
          class="key"
          // A helper strikes out what the same tablet wrote; the brewer anything.
          writes={reading.device === deviceId.value ? 'withdrawn' : 'miss-mended'}
          onFirm={() =>
            attempt('strike it out', () => withdraw(brew, reading.eventId, 'read wrongly'))
          }
        >
          Strike it out
        </FirmButton>
      </div>
    </section>
  );
}

/** Says that a heat-up was tapped at a time no burner here explains; the pot has to be read. */
export function OddHeat({ brew, kit, odd }: { brew: BrewState; kit: Kit; odd: OddDone }) {
  const at = (minute: number) => clockOf((brew.startedAtMs ?? 0) + minute * 60_000);
  return (
    <p class="doubt" role="status">
      <b>Read {nameIn(kit, odd.vessel)}.</b> Its heat-up was tapped done outside{' '}
      {at(odd.expected.low)} to {at(odd.expected.high)}, so the forecast takes it as heated only as
      long as it was.
    </p>
  );
}
