import type { Band, Plan, PlanDocument, WortForecast } from '@ladlework/planner';
import { extractBand } from '../../units/band-text.ts';
import { show, showBand, showExtract } from '../../units/show.ts';
import { DoesNotHold } from '../DoesNotHold.tsx';
import { Fact } from '../Fact.tsx';
import { Worth } from './Worth.tsx';

const three = (band: Band, digits: number): string =>
  `${band.low.toFixed(digits)}–${band.likely.toFixed(digits)}–${band.high.toFixed(digits)}`;
const percent = (band: Band, digits = 0): string =>
  `${three({ low: band.low * 100, likely: band.likely * 100, high: band.high * 100 }, digits)} %`;

/** What the mash history gives: wort with its two kinds of doubt, and how it runs off. */
export function WortPanel({ plan, document }: { plan: Plan; document: PlanDocument }) {
  const { runOff, wort } = plan;
  return (
    <div class="cols">
      {wort !== undefined && <Wort wort={wort} />}
      <div>
        <h3>Run-off</h3>
        <p class="plain">{runOffText(plan)}</p>
        <dl class="facts">
          <Fact
            name="mash, first rest → last"
            value={`${show('temperature', runOff.fromC)} → ${showBand('temperature', runOff.toC)}`}
          />
          <Fact
            name={`viscosity of ${showExtract(runOff.wortPlato)} wort`}
            value={`${runOff.viscosityFromMPas.toFixed(2)} → ${three(runOff.viscosityToMPas, 2)} mPa s`}
          />
          <Fact name="flow at the same head" value={`${three(runOff.flowFactor, 2)} times`} />
        </dl>
        <Burnt plan={plan} />
        {wort !== undefined && <Worth document={document} wort={wort} />}
      </div>
    </div>
  );
}

/** What the mash burns and steams away. */
function Burnt({ plan: { energy } }: { plan: Plan }) {
  return (
    <>
      <h3>Fuel and steam, to the end of the mash</h3>
      <dl class="facts">
        <Fact
          name="fuel or current"
          note="as the meter counts it"
          value={showBand('energy', energy.burntKWh)}
        />
        <Fact name="heat into the vessels" value={showBand('energy', energy.heatKWh)} />
        <Fact name="carried off by steam" value={showBand('energy', energy.vapourKWh)} />
        <Fact name="lost by walls and carrying" value={showBand('energy', energy.lostKWh)} />
        <Fact name="water steamed away" value={showBand('mass', energy.evaporatedKg)} />
        <Fact name="of it by the pulls" value={showBand('mass', energy.boiledOffKg)} />
      </dl>
    </>
  );
}

/** What the warmer mash does to run-off, in plain words. */
function runOffText({ runOff }: Plan): string {
  const faster = Math.round((runOff.flowFactor.likely - 1) * 100);
  if (faster === 0) return 'Wort runs off as fast as it would have from the first rest.';
  const how = faster > 0 ? 'thinner' : 'thicker';
  const flow = faster > 0 ? 'faster' : 'slower';
  return `The wort is ${how} than at the first rest: at the same head it runs off about ${Math.abs(faster)} % ${flow}. The bed itself decides the rest.`;
}

function Wort({ wort }: { wort: WortForecast }) {
  return (
    <div>
      <h3>Wort</h3>
      <DoesNotHold reasons={wort.outside} />
      <dl class="facts">
        <Fact name="extract" value={showBand('mass', wort.extractKg)} />
        <Fact name="strength in the tun" value={extractBand(wort.wortPlato)} />
        <Fact
          name="limit of attenuation"
          note="the figure to expect: kit, malt and the model's own error"
          value={percentOf(wort.limitApparentPct, 0)}
        />
        <Fact
          name="the same, between plans"
          note="narrow band, only for comparing plans of this grist"
          value={percentOf(wort.limitApparentNarrowPct, 1)}
        />
        <Fact
          name="fermentable share"
          note="with the model's own error"
          value={percent(wort.fermentableShare)}
        />
        <Fact name="alpha-amylase left" note="kit and malt" value={percent(wort.alphaLeft)} />
        <Fact name="beta-amylase left" note="kit and malt" value={percent(wort.betaLeft)} />
        <Fact name="starch left" note="kit and malt" value={percent(wort.starchLeftShare, 1)} />
        <Fact
          name="colour from the boils"
          note="a factor of two either way until a wort colour is read"
          value={`${three(wort.colourAddedEbc, 1)} EBC`}
        />
        <Fact
          name="SMM removed"
          note="by the pulls' boils, before the wort boil"
          value={percent(wort.smmRemovedShare)}
        />
      </dl>
      <p class="small soft">
        Each band holds eight of ten such brews: low, likely, high. What it will taste of is not in
        these figures.
      </p>
    </div>
  );
}

const percentOf = (band: Band, digits: number): string => `${three(band, digits)} %`;
