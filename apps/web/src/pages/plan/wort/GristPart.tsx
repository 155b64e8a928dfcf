import type { GristPlan, MaltLot } from '@ladlework/planner';
import { inPair, show } from '../../../units/show.ts';
import { Fact } from '../../Fact.tsx';
import { ACCOUNT_NAME } from './words.ts';

/** Where the extract goes, and the weights that would meet what is asked. */
export function GristPart({ grist, malts }: { grist: GristPlan; malts: readonly MaltLot[] }) {
  const { wanted } = grist;
  return (
    <div>
      <h3>Extract, stage by stage</h3>
      <dl class="facts">
        {grist.account.map((line) => (
          <Fact
            key={line.stage}
            name={ACCOUNT_NAME[line.stage]}
            {...(line.lostKg > 0.0005 ? { note: `${show('mass', line.lostKg)} left behind` } : {})}
            value={show('mass', line.extractKg)}
          />
        ))}
      </dl>
      {wanted !== undefined && (
        <>
          <h3>Malt for the beer asked for</h3>
          <dl class="facts">
            {malts.map((malt, i) => (
              <Fact
                key={`${malt.name}.${i}`}
                name={malt.name}
                note={`now ${show('mass', malt.kg)}; in whole bags ${show('mass', wanted.bagsKg[i] ?? 0)}`}
                value={show('mass', wanted.kg[i] ?? 0)}
              />
            ))}
          </dl>
          <p class="plain">
            Whole bags make it {Math.abs(wanted.bagsPlatoChange).toFixed(1)} % of extract by weight{' '}
            {wanted.bagsPlatoChange < 0 ? 'weaker' : 'stronger'}, or{' '}
            {inPair(`${wanted.bagsTankL.toFixed(0)} L`)} in the tank at the strength asked for.
          </p>
        </>
      )}
    </div>
  );
}
