import type { PlanDocument, WortPlan } from '@ladlework/planner';
import { inPair } from '../../../units/show.ts';
import { BoilPart } from './BoilPart.tsx';
import { CoolPart } from './CoolPart.tsx';
import { GristPart } from './GristPart.tsx';
import { LauterPart } from './LauterPart.tsx';
import { LiquorPart } from './LiquorPart.tsx';
import { Stages } from './Stages.tsx';
import { Wishes } from './Wishes.tsx';

/** From the mash to the pitched wort: what there will be at each stage, and what it takes. */
export function WortPart({ wort, document }: { wort: WortPlan; document: PlanDocument }) {
  return (
    <>
      <section class="block">
        <h2>From the mash to pitched wort</h2>
        <Stages wort={wort} />
        <Wishes wishes={wort.wishes} />
        <Lines title="Mind" lines={wort.notes} />
        <Lines title="Taken as usual, for want of figures" lines={wort.assumed} />
      </section>
      <section class="block">
        <h2>Grist and liquor</h2>
        <div class="cols">
          <GristPart grist={wort.grist} malts={document.beer.malts} />
          {wort.liquor === undefined ? (
            <div>
              <h3>Liquor</h3>
              <p class="plain">
                The kit has no water report. Enter one with the kit, and salts, acid and mash pH
                stand here.
              </p>
            </div>
          ) : (
            <LiquorPart liquor={wort.liquor} acid={document.kit.liquor?.acid} />
          )}
        </div>
      </section>
      <section class="block">
        <h2>Run-off, boil, knock-out</h2>
        <div class="cols">
          <LauterPart lauter={wort.lauter} />
          <BoilPart boil={wort.boil} castOut={wort.stages.find((s) => s.stage === 'cast-out')} />
          <CoolPart
            knockOut={wort.knockOut}
            pitch={wort.pitch}
            yeast={document.beer.yeast?.name}
            beer={wort.beer}
          />
        </div>
      </section>
    </>
  );
}

function Lines({ title, lines }: { title: string; lines: readonly string[] }) {
  if (lines.length === 0) return null;
  return (
    <>
      <h3>{title}</h3>
      <ul class="plain-list">
        {lines.map((line) => (
          <li key={line}>{inPair(line)}</li>
        ))}
      </ul>
    </>
  );
}
