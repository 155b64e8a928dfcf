import type { Hand } from '@ladlework/brewhouse';
import { TextField } from '../../form/fields.tsx';
import { Remove } from './Remove.tsx';

interface HandProps {
  readonly hand: Hand;
  readonly onHand: (next: Hand) => void;
  readonly onRemove: () => void;
}

/** One pair of hands and the letter it has on the score. */
export function HandFields({ hand, onHand, onRemove }: HandProps) {
  return (
    <div class="thing">
      <div class="fields">
        <TextField
          label={`Name of ${hand.id}`}
          path={`hands.${hand.id}.name`}
          value={hand.name}
          onValue={(name) => onHand({ ...hand, name })}
          hint={`${hand.id} on the score`}
        />
        <Remove name={hand.name} onRemove={onRemove} />
      </div>
    </div>
  );
}
