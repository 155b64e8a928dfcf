import type { WortPlan } from '@ladlework/planner';
import { extractBand, threeText } from '../../../units/band-text.ts';
import { showBand } from '../../../units/show.ts';
import { STAGE_NAME } from './words.ts';

/** What there is at kettle-full, cast-out, knock-out and in the tank. */
export function Stages({ wort }: { wort: WortPlan }) {
  return (
    <div class="scroll-x">
      <table class="plan-table">
        <caption>
          Litres as the wort measures at 20 °C, extract by weight of the wort. Each band holds eight
          of ten such brews: low, likely, high. The hours stand in the whole day.
        </caption>
        <thead>
          <tr>
            <th scope="col">Stage</th>
            <th scope="col">Wort, cold</th>
            <th scope="col">Strength</th>
            <th scope="col">Extract</th>
            <th scope="col">Left behind</th>
            <th scope="col">Bitterness</th>
            <th scope="col">Colour</th>
          </tr>
        </thead>
        <tbody>
          {wort.stages.map((stage) => (
            <tr key={stage.stage}>
              <th scope="row">{STAGE_NAME[stage.stage]}</th>
              <td data-label="Wort, cold">{showBand('volume', stage.coldL)}</td>
              <td data-label="Strength">{extractBand(stage.plato)}</td>
              <td data-label="Extract">{showBand('mass', stage.extractKg)}</td>
              <td data-label="Left behind">
                {stage.lostKg.high < 0.0005 ? 'none' : showBand('mass', stage.lostKg)}
              </td>
              <td data-label="Bitterness">
                {stage.ibu === undefined ? '–' : `${threeText(stage.ibu, 0)} mg/L`}
              </td>
              <td data-label="Colour">
                {stage.colourEbc === undefined ? '–' : `${threeText(stage.colourEbc, 1)} EBC`}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
