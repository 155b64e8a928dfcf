import { show } from '../units/show.ts';
import { FirmButton } from './FirmButton.tsx';
import type { ThreePlaces } from './three-places.ts';

interface Props {
  readonly name: string;
  readonly values: readonly number[];
  readonly said: ThreePlaces;
  readonly onAgain: () => void;
  readonly onTake: () => void;
}

/** Three places that do not agree: nothing is corrected on their word unless the brewer says so. */
export function Unsettled({ name, values, said, onAgain, onTake }: Props) {
  return (
    <section class="doubt" aria-label="Not settled">
      <p>
        <b>
          {name} has not settled: {show('temperatureDifference', said.spreadK, 1)} between three
          places
        </b>{' '}
        ({values.map((v) => show('temperature', v, 1)).join(', ')}). Stir, wait 5 min, read again;
        nothing is corrected on this.
      </p>
      <div class="row">
        <FirmButton class="key" onFirm={onAgain}>
          Read again
        </FirmButton>
        <FirmButton class="key" onFirm={onTake}>
          Take {show('temperature', said.meanC, 1)} all the same
        </FirmButton>
      </div>
    </section>
  );
}
