import type { Kit } from '@ladlework/brewhouse';
import { useEffect } from 'preact/hooks';
import { kept, oneOf } from '../shell/kept.ts';
import { who } from '../shell/settings.ts';

/** Whether somebody has taken this tablet as a helper; it is signed for them once, not each day. */
const taken = kept<'yes' | 'no'>('helper-signed', 'no', oneOf('yes', 'no'));

/** Whose view this is, with the letter large. A new helper's tablet begins with the kit's second pair of hands. */
export function HelperHands({ kit }: { kit: Kit }) {
  const [brewer, helper] = kit.hands;
  useEffect(() => {
    if (taken.value === 'yes') return;
    taken.value = 'yes';
    if (helper !== undefined && who.value === brewer?.id) who.value = helper.id;
  }, [brewer, helper]);
  const hand = kit.hands.find((h) => h.id === who.value);
  return (
    <p class="helper-hands">
      <b aria-hidden="true">{who.value}</b>
      <span>
        {hand === undefined ? 'Sign below, then your next action stands here.' : hand.name}
      </span>
    </p>
  );
}
