import type { Band, Plan } from '@ladlework/planner';
import { show, showBand } from '../units/show.ts';

const three = (band: Band, digits: number): string =>
  `${band.low.toFixed(digits)}–${band.likely.toFixed(digits)}–${band.high.toFixed(digits)}`;
const share = (band: Band): Band => ({
  low: band.low * 100,
  likely: band.likely * 100,
  high: band.high * 100,
});

/** What the mash history gives: wort with its two kinds of doubt, and how it runs off. */
export function WortPanel({ plan }: { plan: Plan }) {
  const { runOff, wort } = plan;
  return (
    <div class="cols">
      {wort !== undefined && (
        <div>
          <h3>Wort</h3>
          <dl class="facts">
            <Fact name="extract" value={showBand('mass', wort.extractKg)} />
            <Fact name="strength in the tun" value={`${three(wort.wortPlato, 1)} °P`} />
            <Fact name="fermentable share" value={`${three(share(wort.fermentableShare), 0)} %`} />
            <Fact
              name="limit of attenuation, as a figure to expect"
              value={`${three(wort.limitApparentPct, 0)} %`}
            />
            <Fact
              name="the same, to compare plans"
              value={`${three(wort.limitApparentNarrowPct, 1)} %`}
            />
            <Fact name="alpha left" value={`${three(share(wort.alphaLeft), 0)} %`} />
            <Fact name="beta left" value={`${three(share(wort.betaLeft), 0)} %`} />
            <Fact name="starch left" value={`${three(share(wort.starchLeftShare), 1)} %`} />
            <Fact name="colour from the boils" value={`${three(wort.colourAddedEbc, 1)} EBC`} />
          </dl>
          {wort.outside.length > 0 && (
            <div class="wrong">
              <b>These figures do not hold here.</b>
              <ul>
                {wort.outside.map((why) => (
                  <li key={why}>{why}</li>
                ))}
              </ul>
            </div>
          )}
          <p class="small soft">
            The figure to expect carries the doubt of the model itself; the one for comparing two
            plans of the same grist leaves out what both share.
          </p>
        </div>
      )}
      <div>
        <h3>Run-off</h3>
        <dl class="facts">
          <Fact
            name="mash, first rest → last"
            value={`${show('temperature', runOff.fromC)} → ${showBand('temperature', runOff.toC)}`}
          />
          <Fact
            name={`viscosity of ${runOff.wortPlato.toFixed(1)} °P wort`}
            value={`${runOff.viscosityFromMPas.toFixed(2)} → ${three(runOff.viscosityToMPas, 2)} mPa s`}
          />
          <Fact name="flow at the same head" value={`${three(runOff.flowFactor, 2)} times`} />
        </dl>
      </div>
    </div>
  );
}

function Fact({ name, value }: { name: string; value: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{value}</dd>
    </div>
  );
}
