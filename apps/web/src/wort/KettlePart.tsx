import type { BrewState } from '@ladlework/log';
import type { KettleWayLine, WortDay } from '@ladlework/planner';
import { role } from '../data/access.ts';
import { FirmButton } from '../day/FirmButton.tsx';
import { attempt } from '../pages/trouble.tsx';
import { clockOf, inPair, show, showExtract } from '../units/show.ts';
import { chooseWay } from './actions.ts';

interface Props {
  readonly brew: BrewState;
  readonly kettle: NonNullable<WortDay['kettle']>;
}

/** What stands in the full kettle, and the ways on beside each other. */
export function KettlePart({ brew, kettle }: Props) {
  const at = (minute: number) => clockOf((brew.startedAtMs ?? 0) + minute * 60_000);
  const mayChoose = role.value === 'brewer';
  return (
    <section class="block wort-part" aria-label="Ways on from the full kettle">
      <p class="wort-big">
        <span class="soft">full kettle</span> <b>{show('volume', kettle.coldL, 0)}</b>{' '}
        <span class="soft">at 20 °C,</span> <b>{showExtract(kettle.plato)}</b>
        <span class="soft">, {show('mass', kettle.extractKg)} extract</span>
        {kettle.ph20 !== undefined && <span class="soft">, pH {kettle.ph20.toFixed(2)}</span>}
      </p>
      <p class="soft">
        Wanted after the boil: {showExtract(kettle.wantedPlato)}, {kettle.wantedIbu.toFixed(0)} IBU.
        {!mayChoose && ' Which way is taken is the brewer’s to say.'}
      </p>
      <ul class="kettle-ways">
        {kettle.options.map((line) => (
          <li key={line.way} class={line.possible ? undefined : 'cannot'}>
            <h2>
              {wayText(line)}
              {kettle.chosen === line.way && <span class="taken"> ✓ taken</span>}
            </h2>
            {line.possible ? (
              <dl class="wort-facts">
                <Figure name="After the boil">
                  {show('volume', line.castOutL, 0)}, <b>{showExtract(line.plato)}</b>,{' '}
                  {show('mass', line.extractInKettleKg)} extract
                </Figure>
                <Figure name="Bitterness">
                  <b>{line.ibu.toFixed(0)} IBU</b>
                  {Math.abs(line.ibu - line.ibuHopsKept) >= 0.5 &&
                    ` with the hops re-timed, ${line.ibuHopsKept.toFixed(0)} without`}
                  {line.hopChange !== undefined && (
                    <span class="soft"> {inPair(line.hopChange)}</span>
                  )}
                </Figure>
                {line.colourEbc !== undefined && (
                  <Figure name="Colour">{line.colourEbc.toFixed(0)} EBC</Figure>
                )}
                <Figure name="In the tank">
                  {at(line.finishMin)}, boil over at {at(line.boilEndMin)}
                </Figure>
                <Figure name="Cost">{costText(line.costChange)}</Figure>
                {line.foam !== 'room' && (
                  <Figure name="Take care">
                    {line.foam === 'watch'
                      ? 'little room for the foam'
                      : 'it will boil over as it stands: take wort off first'}
                  </Figure>
                )}
              </dl>
            ) : (
              <p>Not here: {inPair(line.whyNot ?? 'it cannot be done.')}</p>
            )}
            {line.possible && mayChoose && kettle.chosen !== line.way && (
              <FirmButton
                class="key"
                writes="kettle-chosen"
                label={`Take: ${wayText(line)}`}
                onFirm={() =>
                  attempt('write it down', () => chooseWay(brew, line, wayText(line).slice(0, 200)))
                }
              >
                Take
              </FirmButton>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Figure({ name, children }: { name: string; children: preact.ComponentChildren }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** A way on in one line. */
function wayText(line: KettleWayLine): string {
  const boil = `boil ${show('duration', line.minutes)}`;
  switch (line.way) {
    case 'accept':
      return `Go on as it is, ${boil}`;
    case 'boil-longer':
      return `Boil longer: ${show('duration', line.minutes)}`;
    case 'boil-shorter':
      return `Boil shorter: ${show('duration', line.minutes)}`;
    case 'add-liquor':
      return `Add ${show('volume', line.liquorL, 0)} of liquor, ${boil}`;
    case 'add-extract':
      return `Add ${show('mass', line.extractKg)} of extract, ${boil}`;
  }
}

/** Money more or less than going on as planned; the currency is the house's own. */
const costText = (change: number): string =>
  Math.abs(change) < 0.005
    ? 'as planned'
    : `${Math.abs(change).toFixed(2)} ${change > 0 ? 'more' : 'less'} than planned`;
