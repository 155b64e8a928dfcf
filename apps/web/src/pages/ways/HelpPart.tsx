import { type HelpRow, type HelpTable, type PlanDocument, payBackOf } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { engine } from '../../engine/client.ts';
import { NumberField } from '../../form/fields.tsx';
import { inPair, show } from '../../units/show.ts';
import { type AnswerState, Waiting } from './answer.tsx';
import { MOST_PAID, offerPrices } from './prices.ts';
import { signed } from './way-words.ts';

/** Single changes beside each other, each played, with what it pays back at the brewer's price. */
export function HelpPart({ document }: { document: PlanDocument }) {
  const answer = useSignal<AnswerState<HelpTable> | undefined>(undefined);
  // Another plan or another price of hands and heat is another table.
  useEffect(() => {
    answer.value = undefined;
  }, [document]);
  const ask = () => {
    answer.value = { state: 'asking' };
    void engine.help(document).then((result) => {
      answer.value = result.ok
        ? { state: 'here', value: result.value }
        : { state: 'failed', why: result.error.message };
    });
  };
  const at = answer.value;
  return (
    <>
      {(at === undefined || at.state === 'failed') && (
        <p>
          <button type="button" class="btn solid" onClick={ask}>
            Work out what would help
          </button>
        </p>
      )}
      {at !== undefined && (
        <Waiting
          answer={{ value: at } as Parameters<typeof Waiting>[0]['answer']}
          what="Each change is brewed on paper forty times over."
          onStop={engine.stopTabling}
        />
      )}
      {at?.state === 'here' && <Table table={at.value} />}
    </>
  );
}

function Table({ table }: { table: HelpTable }) {
  const paid = (row: Pick<HelpRow, 'text'>) => offerPrices.value[row.text];
  const rows = table.rows.map((row) => ({
    ...row,
    payBack: row.feasible ? payBackOf(paid(row), row.moneySaved) : undefined,
  }));
  const brews = (row: (typeof rows)[number]) => row.payBack?.brews ?? Number.POSITIVE_INFINITY;
  const sorted = rows.toSorted((a, b) =>
    a.feasible !== b.feasible
      ? Number(b.feasible) - Number(a.feasible)
      : brews(a) !== brews(b)
        ? brews(a) - brews(b)
        : b.minutesSaved - a.minutesSaved,
  );
  const unit = table.currency;
  return (
    <table class="plan-table help-table">
      <caption>{inPair(table.note)}</caption>
      <thead>
        <tr>
          <th scope="col">Change</th>
          <th scope="col">Its price</th>
          <th scope="col">Day shorter by</th>
          <th scope="col">Landing band</th>
          <th scope="col">Lifts saved</th>
          <th scope="col">Saved a brew</th>
          <th scope="col">Paid back</th>
        </tr>
      </thead>
      <tbody>
        {sorted.map((row) => (
          <tr key={row.text}>
            <th scope="row">{inPair(row.text)}</th>
            <td data-label="">
              <NumberField
                label={`Price of ${inPair(row.text)}`}
                path={`price.${row.text}`}
                unit={unit}
                value={paid(row)}
                min={0}
                max={MOST_PAID}
                optional
                empty="not named"
                onValue={(price) => {
                  const { [row.text]: _old, ...others } = offerPrices.value;
                  offerPrices.value =
                    price === undefined ? others : { ...others, [row.text]: price };
                }}
              />
            </td>
            {row.payBack === undefined ? (
              <td colSpan={5}>{inPair(row.whyNot)}</td>
            ) : (
              <>
                <td data-label="Day shorter by">
                  {signed(row.minutesSaved, (m) => show('duration', m))}
                </td>
                <td data-label="Landing band">
                  {show('temperatureDifference', row.landingBandK.own, 1)} →{' '}
                  {show('temperatureDifference', row.landingBandK.changed, 1)}
                </td>
                <td data-label="Lifts saved">{Math.round(row.liftsAvoided)}</td>
                <td data-label="Saved a brew">
                  {signed(row.moneySaved, (m) => m.toFixed(2))} {unit}
                </td>
                <td data-label="Paid back">
                  <b>{row.payBack.text}</b>
                </td>
              </>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
