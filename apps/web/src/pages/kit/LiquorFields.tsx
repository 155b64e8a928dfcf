import { type Kit, type LiquorKit, reportDoubt } from '@ladlework/brewhouse';
import {
  ACIDS,
  type Acid,
  alkalinityFromBicarbonate,
  ionBalance,
  residualAlkalinity,
  SALTS,
  type SaltName,
  type WaterReport,
} from '@ladlework/matter';
import { NumberField, Pick, Tick, Ticks } from '../../form/fields.tsx';
import { inPair } from '../../units/show.ts';
import { Fact } from '../Fact.tsx';
import { type Change, put } from './put.ts';

const ACID: readonly { value: Acid | 'none'; text: string }[] = [
  { value: 'none', text: 'none' },
  ...Object.entries(ACIDS).map(([acid, { name }]) => ({ value: acid as Acid, text: name })),
];
const SALT = Object.entries(SALTS).map(([salt, { name }]) => ({ value: salt, text: name }));

/** What a first form stands at: soft water, to be overwritten by the laboratory's figures. */
const FIRST_REPORT: WaterReport = {
  calciumMgL: 20,
  magnesiumMgL: 5,
  sodiumMgL: 10,
  chlorideMgL: 17,
  sulphateMgL: 20,
  alkalinityMgLCaCO3: 46,
  ph: 7.5,
};

/** The house's liquor: its report, a second one to mix in, salts and acid on the shelf. */
export function LiquorFields({ kit, onKit }: { kit: Kit; onKit: (next: Kit) => void }) {
  const { liquor } = kit;
  const set = (change: Change<LiquorKit>) =>
    liquor !== undefined && onKit({ ...kit, liquor: put(liquor, change) });
  return (
    <section class="block">
      <h2>Liquor</h2>
      <Tick
        label="I have a water report"
        value={liquor !== undefined}
        onValue={(on) => {
          const { liquor: _old, ...rest } = kit;
          onKit(on ? { ...rest, liquor: { report: FIRST_REPORT } } : rest);
        }}
      />
      {liquor !== undefined && (
        <>
          <Report
            path="liquor.report"
            report={liquor.report}
            onReport={(report) => set({ report })}
          />
          <Tick
            label="A second liquor can be mixed in, as from a softener or reverse osmosis"
            value={liquor.second !== undefined}
            onValue={(on) => set({ second: on ? FIRST_REPORT : undefined })}
          />
          {liquor.second !== undefined && (
            <Report
              path="liquor.second"
              report={liquor.second}
              onReport={(second) => set({ second })}
            />
          )}
          <Ticks
            label="Salts on the shelf"
            values={(liquor.salts ?? []).map((s) => s.salt)}
            options={SALT}
            onValues={(names) =>
              set({
                salts: names.map(
                  (salt) =>
                    liquor.salts?.find((s) => s.salt === salt) ?? { salt: salt as SaltName },
                ),
              })
            }
          />
          <div class="fields">
            <Pick
              label="Acid on the shelf"
              value={liquor.acid ?? 'none'}
              options={ACID}
              onValue={(acid) => set({ acid: acid === 'none' ? undefined : acid })}
            />
          </div>
          <p class="small soft">
            Strong acid burns: goggles and gloves, acid into water and never water into acid, kept
            apart from caustic and from chlorine. Slaked lime is caustic too. The supplier's sheet
            comes first.
          </p>
        </>
      )}
    </section>
  );
}

interface ReportProps {
  readonly path: string;
  readonly report: WaterReport;
  readonly onReport: (next: WaterReport) => void;
}

/** A report as the laboratory prints it, and whether it can be true. */
function Report({ path, report, onReport }: ReportProps) {
  const ion = (label: string, field: keyof WaterReport, optional = false) => (
    <NumberField
      label={label}
      path={`${path}.${field}`}
      unit="mg/L"
      value={report[field]}
      min={0}
      max={2000}
      {...(optional ? { optional, empty: 'not printed' } : {})}
      onValue={(x) => (x !== undefined || optional) && onReport(put(report, { [field]: x }))}
    />
  );
  const balance = ionBalance(report);
  const doubt = reportDoubt(report);
  return (
    <>
      <div class="fields">
        {ion('Calcium', 'calciumMgL')}
        {ion('Magnesium', 'magnesiumMgL')}
        {ion('Sodium', 'sodiumMgL')}
        {ion('Potassium', 'potassiumMgL', true)}
        {ion('Chloride', 'chlorideMgL')}
        {ion('Sulphate', 'sulphateMgL')}
        {ion('Nitrate', 'nitrateMgL', true)}
        {ion('Alkalinity as CaCO3', 'alkalinityMgLCaCO3')}
        <NumberField
          label="or bicarbonate, where that is printed"
          path={`${path}.bicarbonate`}
          unit="mg/L"
          value={undefined}
          min={0}
          max={2400}
          optional
          empty="turned into alkalinity"
          onValue={(mgL) =>
            mgL !== undefined &&
            onReport({
              ...report,
              alkalinityMgLCaCO3: Math.round(alkalinityFromBicarbonate(mgL) * 10) / 10,
            })
          }
        />
        <NumberField
          label="pH"
          path={`${path}.ph`}
          value={report.ph}
          min={5}
          max={10}
          onValue={(ph) => ph !== undefined && onReport({ ...report, ph })}
        />
      </div>
      <dl class="facts">
        <Fact
          name="cations and anions"
          value={`${balance.cationsMEqL.toFixed(2)} and ${balance.anionsMEqL.toFixed(2)} mEq/L`}
        />
        <Fact
          name="residual alkalinity"
          value={`${residualAlkalinity(report).mgLCaCO3.toFixed(0)} mg/L as CaCO3`}
        />
      </dl>
      <p class={doubt === undefined ? 'plain' : 'wrong'} role="status">
        {doubt === undefined ? 'The ions balance: the report can be true.' : inPair(doubt)}
      </p>
    </>
  );
}
