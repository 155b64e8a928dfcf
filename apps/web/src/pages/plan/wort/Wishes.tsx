import type { WishLine } from '@ladlework/planner';
import { extractBand, threeText } from '../../../units/band-text.ts';
import { inPair, show, showBand, showExtract } from '../../../units/show.ts';
import { WISH_NAME } from './words.ts';

/** What was asked of the beer against what comes. */
export function Wishes({ wishes }: { wishes: readonly WishLine[] }) {
  if (wishes.length === 0) {
    return (
      <p class="plain">
        The beer asks for nothing yet: strength, colour and bitterness are set on its page.
      </p>
    );
  }
  return (
    <>
      <h3>Asked and got</h3>
      <ul class="plain-list">
        {wishes.map((wish) => (
          <li key={wish.what}>
            <b>
              {wish.met ? 'As asked' : 'Not as asked'}: {WISH_NAME[wish.what]}
            </b>{' '}
            {got(wish)} <span class="soft">for {wanted(wish)}</span>
            {wish.mend !== undefined && <> {inPair(wish.mend)}</>}
          </li>
        ))}
      </ul>
    </>
  );
}

const digitsOf = (wish: WishLine): number =>
  wish.what === 'mash-ph' ? 2 : wish.what === 'colour' ? 1 : 0;
const unitOf = (wish: WishLine): string => (wish.unit === 'pH' ? '' : ` ${wish.unit}`);

function got(wish: WishLine): string {
  if (wish.what === 'tank-litres') return showBand('volume', wish.got);
  if (wish.what === 'extract') return extractBand(wish.got);
  return `${threeText(wish.got, digitsOf(wish))}${unitOf(wish)}`;
}

function wanted(wish: WishLine): string {
  if (wish.what === 'tank-litres') return show('volume', wish.wanted);
  if (wish.what === 'extract') return showExtract(wish.wanted);
  return `${wish.wanted.toFixed(digitsOf(wish))}${unitOf(wish)}`;
}
