import type { Kit } from '@ladlework/brewhouse';
import type { Mash, MashRest, Raise } from '@ladlework/planner';
import { Choice, Pick, QuantityField, Ticks } from '../form/fields.tsx';
import { show } from '../units/show.ts';
import {
  newRaise,
  type ThicknessWord,
  thicknessFrom,
  thicknessWord,
  withLayout,
  withoutRest,
  withRest,
} from './mash-fit.ts';

interface Props {
  readonly mash: Mash;
  readonly onMash: (mash: Mash) => void;
  /** When given, pots are chosen among its vessels. */
  readonly kit?: Kit;
}

const THICKNESS: readonly { value: ThicknessWord; text: string; why: string }[] = [
  { value: 'thick', text: 'Thick', why: 'let it settle, scoop the grist' },
  { value: 'as-it-comes', text: 'As it comes', why: 'stirred up' },
  { value: 'thin', text: 'Thin', why: 'strained, for the last pull' },
  { value: 'ratio', text: 'By the ratio', why: 'liquor to grist' },
];

/** Rests and the raises between them, in the order of the day. */
export function MashFields({ mash, onMash, kit }: Props) {
  return (
    <>
      <div class="fields">
        <QuantityField
          label="Liquor to grist"
          path="mash.ratio"
          kind="ratio"
          value={mash.liquorLPerKg}
          min={1.5}
          max={8}
          onValue={(liquorLPerKg) =>
            liquorLPerKg !== undefined && onMash({ ...mash, liquorLPerKg })
          }
        />
      </div>
      <Choice
        label="Layout"
        value={mash.layout}
        options={[
          { value: 'carry', text: 'Mash in the tun', why: 'the pull goes to the pot or kettle' },
          {
            value: 'kettle-mash',
            text: 'Mash in the kettle',
            why: 'the rest is parked in the tun, what stays boils',
          },
        ]}
        onValue={(layout) => onMash(withLayout(mash, layout))}
      />
      <ol class="rests">
        {mash.rests.map((rest, i) => (
          <li key={i}>
            <RestFields
              rest={rest}
              at={i}
              only={mash.rests.length === 1}
              onRest={(next) =>
                onMash({ ...mash, rests: mash.rests.map((r, k) => (k === i ? next : r)) })
              }
              onRemove={() => onMash(withoutRest(mash, i))}
            />
            {mash.raises[i] !== undefined && (
              <RaiseFields
                raise={mash.raises[i]}
                at={i}
                to={mash.rests[i + 1]?.tempC ?? rest.tempC}
                onRaise={(next) =>
                  onMash({ ...mash, raises: mash.raises.map((r, k) => (k === i ? next : r)) })
                }
                {...(kit === undefined ? {} : { kit })}
              />
            )}
          </li>
        ))}
      </ol>
      <div class="row">
        <button type="button" class="btn" onClick={() => onMash(withRest(mash))}>
          Add a rest
        </button>
      </div>
    </>
  );
}

interface RestProps {
  readonly rest: MashRest;
  readonly at: number;
  readonly only: boolean;
  readonly onRest: (rest: MashRest) => void;
  readonly onRemove: () => void;
}

function RestFields({ rest, at, only, onRest, onRemove }: RestProps) {
  const path = `mash.rests.${at}`;
  return (
    <div class="rest">
      <header class="row">
        <h3>Rest {at + 1}</h3>
        {!only && (
          <button
            type="button"
            class="btn plain"
            aria-label={`Take away rest ${at + 1}`}
            onClick={onRemove}
          >
            Take away
          </button>
        )}
      </header>
      <div class="fields">
        <QuantityField
          label="At"
          path={`${path}.tempC`}
          kind="temperature"
          value={rest.tempC}
          min={30}
          max={80}
          onValue={(tempC) => tempC !== undefined && onRest({ ...rest, tempC })}
        />
        <QuantityField
          label="For"
          path={`${path}.minutes`}
          kind="duration"
          value={rest.minutes}
          min={0}
          max={600}
          onValue={(minutes) => minutes !== undefined && onRest({ ...rest, minutes })}
        />
        <QuantityField
          label="Pull begins after"
          path={`${path}.pullAfterMin`}
          kind="duration"
          value={rest.pullAfterMin}
          min={0}
          max={rest.minutes}
          optional
          empty="20 min, or the rest"
          onValue={(pullAfterMin) => {
            const { pullAfterMin: _old, ...others } = rest;
            onRest(pullAfterMin === undefined ? others : { ...others, pullAfterMin });
          }}
        />
      </div>
    </div>
  );
}

interface RaiseProps {
  readonly raise: Raise;
  readonly at: number;
  readonly to: number;
  readonly onRaise: (raise: Raise) => void;
  readonly kit?: Kit;
}

function RaiseFields({ raise, at, to, onRaise, kit }: RaiseProps) {
  return (
    <div class="raise">
      <Choice
        label={`Up to ${show('temperature', to)} by`}
        value={raise.by}
        options={[
          { value: 'decoction', text: 'a pull, boiled and returned' },
          { value: 'liquor', text: 'hot liquor' },
          { value: 'direct-heat', text: 'direct heat' },
        ]}
        onValue={(by) => onRaise(newRaise(by))}
      />
      {raise.by === 'decoction' && (
        <DecoctionFields
          raise={raise}
          at={at}
          onRaise={onRaise}
          {...(kit === undefined ? {} : { kit })}
        />
      )}
      {raise.by === 'liquor' && (
        <div class="fields">
          <QuantityField
            label="Liquor at"
            path={`mash.raises.${at}.tempC`}
            kind="temperature"
            value={raise.tempC}
            min={40}
            max={100}
            optional
            empty="boiling"
            onValue={(tempC) =>
              onRaise(tempC === undefined ? { by: 'liquor' } : { by: 'liquor', tempC })
            }
          />
        </div>
      )}
    </div>
  );
}

interface DecoctionProps {
  readonly raise: Extract<Raise, { by: 'decoction' }>;
  readonly at: number;
  readonly onRaise: (raise: Raise) => void;
  readonly kit?: Kit;
}

function DecoctionFields({ raise, at, onRaise, kit }: DecoctionProps) {
  const path = `mash.raises.${at}`;
  const word = thicknessWord(raise.thickness);
  const boilers = kit?.vessels.filter((v) => kit.burners.some((b) => b.heats.includes(v.id))) ?? [];
  return (
    <>
      <Choice
        label="The pull"
        value={word}
        options={THICKNESS}
        onValue={(next) => onRaise({ ...raise, thickness: thicknessFrom(next, raise.thickness) })}
      />
      <div class="fields">
        {typeof raise.thickness !== 'string' && (
          <QuantityField
            label="Liquor to grist in the pull"
            path={`${path}.ratio`}
            kind="ratio"
            value={raise.thickness.liquorLPerKg}
            min={0.8}
            max={12}
            onValue={(liquorLPerKg) =>
              liquorLPerKg !== undefined && onRaise({ ...raise, thickness: { liquorLPerKg } })
            }
          />
        )}
        <QuantityField
          label="Rest on the way up, at"
          path={`${path}.pullRest.tempC`}
          kind="temperature"
          value={raise.pullRest?.tempC}
          min={50}
          max={80}
          optional
          empty="straight to the boil"
          onValue={(tempC) => {
            const { pullRest, ...rest } = raise;
            onRaise(
              tempC === undefined
                ? rest
                : { ...rest, pullRest: { tempC, minutes: pullRest?.minutes ?? 10 } },
            );
          }}
        />
        {raise.pullRest !== undefined && (
          <QuantityField
            label="for"
            path={`${path}.pullRest.minutes`}
            kind="duration"
            value={raise.pullRest.minutes}
            min={0}
            max={120}
            onValue={(minutes) =>
              minutes !== undefined &&
              raise.pullRest !== undefined &&
              onRaise({ ...raise, pullRest: { ...raise.pullRest, minutes } })
            }
          />
        )}
        <QuantityField
          label="Boil"
          path={`${path}.boil`}
          kind="duration"
          value={raise.boilMinutes}
          min={0}
          max={180}
          onValue={(boilMinutes) => boilMinutes !== undefined && onRaise({ ...raise, boilMinutes })}
        />
        <QuantityField
          label="Boiling liquor beside it"
          path={`${path}.liquor`}
          kind="volume"
          value={raise.boilingLiquorL}
          min={0}
          max={5000}
          optional
          empty="none"
          onValue={(boilingLiquorL) => {
            const { boilingLiquorL: _old, ...rest } = raise;
            onRaise(boilingLiquorL === undefined ? rest : { ...rest, boilingLiquorL });
          }}
        />
      </div>
      {boilers.length > 0 && (
        <Ticks
          label="Boils in"
          values={raise.pots}
          options={boilers.map((v) => ({ value: v.id, text: v.name }))}
          onValues={(pots) => onRaise({ ...raise, pots })}
        />
      )}
      {raise.pots.length > 1 && (
        <Pick
          label="Several pots"
          value={raise.order}
          options={[
            { value: 'side-by-side', text: 'side by side' },
            { value: 'in-turn', text: 'one after another' },
          ]}
          onValue={(order) => onRaise({ ...raise, order })}
        />
      )}
    </>
  );
}
