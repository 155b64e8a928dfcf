import type { BrewState } from '@ladlework/log';
import type { WortDay } from '@ladlework/planner';
import { clockOf, inPair, show, showBand, showExtract } from '../units/show.ts';
import { newest, readsAt } from './boxes.ts';
import { flowText, litresBand } from './words.ts';

interface Props {
  readonly brew: BrewState;
  readonly day: WortDay;
  readonly nowMs: number;
}

/** The wort out of the cooler is looked at this often [min]. @source field.md 3, knock-out */
const EVERY_MIN = 5;

/** Flow and end of the knock-out from today's liquor, what comes out, oxygen and yeast. */
export function KnockOutPart({ brew, day, nowMs }: Props) {
  const { knockOut, pitch, stages, beer } = day;
  const tank = stages[3];
  const at = (minute: number) => clockOf((brew.startedAtMs ?? 0) + minute * 60_000);
  const reads = readsAt(brew, 'knock-out');
  const outC = newest(reads, 'wortOutC');
  const begunMs = brew.moves.find((m) => m.moveId === 'knock-out')?.begunAtMs;
  const lastMs = reads.findLast((r) => r.wortOutC !== undefined)?.atMs ?? begunMs;
  const dueMs = lastMs === undefined ? undefined : lastMs + EVERY_MIN * 60_000;
  return (
    <section class="block wort-part" aria-label="Knock-out and pitch">
      <p class="wort-big">
        <b>{flowText(knockOut.wortLMin.likely)}</b> <span class="soft">from</span>{' '}
        {at(knockOut.fromMin.likely)} <span class="soft">until</span>{' '}
        <b>{at(knockOut.endMin.likely)}</b>{' '}
        <span class="soft">
          ({at(knockOut.endMin.low)} to {at(knockOut.endMin.high)})
        </span>
      </p>
      <p>{inPair(knockOut.advice)}</p>
      {day.at === 'knock-out' && dueMs !== undefined && (
        <p class={dueMs <= nowMs ? 'wrong' : 'note'} role="status">
          {dueMs <= nowMs ? <b>Read the wort out of the cooler now.</b> : 'Read it again'}{' '}
          {dueMs > nowMs && `at ${clockOf(dueMs)}; every ${EVERY_MIN} min.`}
          {outC !== undefined &&
            ` Last ${show('temperature', outC)}, wanted ${show('temperature', knockOut.toC)}.`}
        </p>
      )}
      <dl class="wort-facts">
        <div>
          <dt>Out of the cooler</dt>
          <dd>
            {showBand('temperature', knockOut.outC, 1)} with liquor at{' '}
            {show('temperature', knockOut.liquorInC)}; wanted {show('temperature', knockOut.toC)}
            {knockOut.reachedShare < 0.9 &&
              `, reached in ${Math.round(100 * knockOut.reachedShare)} of 100 days like this`}
          </dd>
        </div>
        <div>
          <dt>Cold liquor</dt>
          <dd>{litresBand(knockOut.liquorL)}; what comes out hot is tomorrow’s strike liquor</dd>
        </div>
        {tank !== undefined && (
          <div>
            <dt>In the tank</dt>
            <dd>
              {litresBand(tank.coldL)}, {showExtract(tank.plato.likely)}
              {tank.ibu !== undefined && `, ${tank.ibu.likely.toFixed(0)} IBU`}
              {beer !== undefined &&
                `; beer at ${showExtract(beer.endPlato.likely)}, ${beer.abvPct.likely.toFixed(1)} % by volume`}
            </dd>
          </div>
        )}
        {pitch !== undefined && (
          <>
            <div>
              <dt>Yeast</dt>
              <dd>
                <b>{(pitch.cells / 1e12).toFixed(1)} × 10¹² cells</b>,{' '}
                {show('volume', pitch.slurryL, 1)} of slurry, {pitch.millionPerML.toFixed(1)}{' '}
                million in a mL, at {show('temperature', pitch.tC)}
              </dd>
            </div>
            <div>
              <dt>Oxygen</dt>
              <dd>
                {pitch.oxygenG.toFixed(1)} g for the tank; air alone reaches{' '}
                {pitch.airReachesMgL.toFixed(1)} mg/L
                {pitch.needsPureOxygen ? ': pure oxygen is needed' : ': air is enough'}
              </dd>
            </div>
          </>
        )}
      </dl>
      {(pitch?.cautions ?? []).map((c) => (
        <p key={c} class="note">
          {inPair(c)}
        </p>
      ))}
    </section>
  );
}
