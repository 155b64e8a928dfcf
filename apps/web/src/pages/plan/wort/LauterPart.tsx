import type { LauterPlan } from '@ladlework/planner';
import { extractBand } from '../../../units/band-text.ts';
import { show, showBand, showExtract } from '../../../units/show.ts';
import { Fact } from '../../Fact.tsx';

const HOW: Readonly<Record<LauterPlan['by'], string>> = {
  continuous: 'sparged while it runs',
  batch: 'drained and filled again',
  none: 'no sparge',
};
/** Readings a table shows; the rest lie between. */
const SHOWN = 7;

/** Run-off: the gravity there should be along it, and when to shut the sparge. */
export function LauterPart({ lauter }: { lauter: LauterPlan }) {
  const step = Math.max(1, Math.ceil((lauter.course.length - 1) / (SHOWN - 1)));
  const course = lauter.course.filter((_, i) => i % step === 0 || i === lauter.course.length - 1);
  return (
    <div>
      <h3>Run-off, {HOW[lauter.by]}</h3>
      <dl class="facts">
        <Fact
          name="takes"
          note={`at ${show('volume', lauter.flowLMin)} a minute`}
          value={showBand('duration', lauter.minutes)}
        />
        <Fact
          name="kettle full at"
          note={`as it reads at ${show('temperature', lauter.readC, 0)}`}
          value={show('volume', lauter.kettleL)}
        />
        <Fact name="first runnings" value={extractBand(lauter.firstPlato)} />
        <Fact name="last runnings" value={extractBand(lauter.lastPlato)} />
        <Fact name="sparge liquor" value={showBand('volume', lauter.spargeL)} />
        {lauter.by === 'continuous' && (
          <Fact
            name="shut the sparge at"
            note="the tun then drains just as the kettle is full"
            value={showBand('volume', lauter.shutAtL)}
          />
        )}
        {lauter.fillsL !== undefined && (
          <Fact
            name="refills"
            value={lauter.fillsL.map((litres) => show('volume', litres)).join(', ')}
          />
        )}
        <Fact
          name="stop at the latest"
          note={
            lauter.stopAtL === undefined
              ? 'the runnings do not come down to it'
              : `the runnings are there at ${showBand('volume', lauter.stopAtL)}`
          }
          value={`${showExtract(lauter.stopPlato)} or pH ${lauter.stopPh.toFixed(1)}`}
        />
        <Fact
          name="depth of the bed"
          note={`it lets about ${show('volume', lauter.bedFlowLMin)} a minute through at a usual head`}
          value={show('length', lauter.bedDepthM)}
        />
      </dl>
      <table class="clocks">
        <caption class="small soft">
          The strength there should be, litres as the kettle reads
        </caption>
        <thead>
          <tr>
            <th scope="col">In the kettle</th>
            <th scope="col">At the tap</th>
            <th scope="col">Kettle</th>
          </tr>
        </thead>
        <tbody>
          {course.map((at) => (
            <tr key={at.collectedL}>
              <th scope="row">{show('volume', at.collectedL)}</th>
              <td>{showExtract(at.tapPlato.likely)}</td>
              <td>{extractBand(at.kettlePlato)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
