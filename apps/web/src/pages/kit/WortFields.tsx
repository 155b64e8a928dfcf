import {
  type BoilKit,
  type CoolerKit,
  type Kit,
  type LauterKit,
  plateUa,
} from '@ladlework/brewhouse';
import { NumberField, Pick, QuantityField, Tick } from '../../form/fields.tsx';
import { show } from '../../units/show.ts';
import { type Change, put } from './put.ts';

interface Props {
  readonly kit: Kit;
  readonly onKit: (next: Kit) => void;
}

/** The kit once the mash is through: bed, boil, cooler. What stays empty is taken as usual. */
export function WortFields({ kit, onKit }: Props) {
  const lauter = (change: Change<LauterKit>) =>
    onKit({ ...kit, lauter: put(kit.lauter ?? {}, change) });
  const boil = (change: Change<BoilKit>) => onKit({ ...kit, boil: put(kit.boil ?? {}, change) });
  const byRate = kit.boil?.boilOffKgPerH !== undefined;
  return (
    <>
      <section class="block">
        <h2>Run-off</h2>
        <p class="plain">
          The bed of your own tun. The stages and what the bed keeps come out of your own run-offs;
          until then the usual figures stand in, with a wider band.
        </p>
        <div class="fields">
          <NumberField
            label="Ideal stages of the bed"
            path="lauter.stages"
            value={kit.lauter?.stages}
            min={0.5}
            max={20}
            optional
            empty="1.6"
            onValue={(stages) => lauter({ stages })}
          />
          <QuantityField
            label="Liquid the drained bed keeps"
            path="lauter.retainedLPerKg"
            kind="ratio"
            value={kit.lauter?.retainedLPerKg}
            min={0.5}
            max={2}
            optional
            near={1.1}
            empty={`usual, ${show('ratio', 1.1)}`}
            onValue={(retainedLPerKg) => lauter({ retainedLPerKg })}
          />
          <QuantityField
            label="Liquid in the bed under wort"
            path="lauter.floodedLPerKg"
            kind="ratio"
            value={kit.lauter?.floodedLPerKg}
            min={0.6}
            max={4}
            optional
            near={1.8}
            empty={`usual, ${show('ratio', 1.8)}`}
            onValue={(floodedLPerKg) => lauter({ floodedLPerKg })}
          />
          <QuantityField
            label="Space under the plates"
            path="lauter.underL"
            kind="volume"
            value={kit.lauter?.underL}
            min={0}
            max={2000}
            optional
            near={20}
            empty="dead volume of the tun"
            onValue={(underL) => lauter({ underL })}
          />
        </div>
      </section>
      <section class="block">
        <h2>Boil</h2>
        <div class="fields">
          <Pick
            label="How strongly it boils, known from"
            value={byRate ? 'rate' : 'power'}
            options={[
              { value: 'power', text: 'the burner' },
              { value: 'rate', text: 'its boil-off' },
            ]}
            onValue={(how) =>
              boil(
                how === 'rate'
                  ? { boilOffKgPerH: 10, netKW: undefined }
                  : { boilOffKgPerH: undefined },
              )
            }
          />
          {byRate ? (
            <QuantityField
              label="Boiled off in an hour"
              path="boil.boilOffKgPerH"
              kind="mass"
              value={kit.boil?.boilOffKgPerH}
              min={0.2}
              max={1600}
              hint="Two dip readings an hour apart, both hot."
              onValue={(boilOffKgPerH) => boilOffKgPerH !== undefined && boil({ boilOffKgPerH })}
            />
          ) : (
            <QuantityField
              label="Power into the wort at the boil"
              path="boil.netKW"
              kind="power"
              value={kit.boil?.netKW}
              min={0.1}
              max={1000}
              optional
              empty="from the burner"
              onValue={(netKW) => boil({ netKW })}
            />
          )}
          <NumberField
            label="Wort kept by trub"
            path="boil.trubShare"
            unit="%"
            value={percent(kit.boil?.trubShare)}
            min={0}
            max={20}
            optional
            empty="2"
            onValue={(pct) => boil({ trubShare: share(pct) })}
          />
          <QuantityField
            label="Wort kept by hops"
            path="boil.hopKeepsLPerKg"
            kind="ratio"
            value={kit.boil?.hopKeepsLPerKg}
            min={0}
            max={15}
            optional
            near={6}
            empty={`usual, ${show('ratio', 6)}`}
            onValue={(hopKeepsLPerKg) => boil({ hopKeepsLPerKg })}
          />
          <NumberField
            label="Bitterness measured, of that reckoned for the boil"
            path="boil.hopFactor.kettle"
            value={kit.boil?.hopFactor?.kettle}
            min={0.3}
            max={2}
            optional
            empty="1"
            onValue={(kettle) => boil({ hopFactor: factors(kit.boil?.hopFactor, { kettle }) })}
          />
          <NumberField
            label="The same for the hot stand"
            path="boil.hopFactor.stand"
            value={kit.boil?.hopFactor?.stand}
            min={0.3}
            max={2}
            optional
            empty="1"
            onValue={(stand) => boil({ hopFactor: factors(kit.boil?.hopFactor, { stand }) })}
          />
          <NumberField
            label="Colour measured, of that reckoned"
            path="boil.colourFactor"
            value={kit.boil?.colourFactor}
            min={0.5}
            max={2}
            optional
            empty="1"
            onValue={(colourFactor) => boil({ colourFactor })}
          />
        </div>
      </section>
      <CoolerSection kit={kit} onKit={onKit} />
    </>
  );
}

const percent = (part: number | undefined) =>
  part === undefined ? undefined : Math.round(part * 1000) / 10;
const share = (pct: number | undefined) => (pct === undefined ? undefined : pct / 100);

/** Both factors are stated together; the one left out is 1. */
function factors(
  before: BoilKit['hopFactor'],
  change: Change<NonNullable<BoilKit['hopFactor']>>,
): BoilKit['hopFactor'] {
  const next = { kettle: 1, stand: 1, ...put({ ...before }, change) };
  return next.kettle === 1 && next.stand === 1 ? undefined : next;
}

const FIRST_LOG = { wortLMin: 12, liquorLMin: 24, plato: 12, fromC: 95, toC: 18, liquorInC: 12 };

function CoolerSection({ kit, onKit }: Props) {
  const { cooler } = kit;
  type Plate = Extract<CoolerKit, { how: 'plate' }>;
  const set = (change: Change<Omit<Plate, 'how'>>) =>
    cooler !== undefined && onKit({ ...kit, cooler: put<CoolerKit>(cooler, change) });
  return (
    <section class="block">
      <h2>Cooler</h2>
      <div class="fields">
        <Pick
          label="Kind"
          value={cooler?.how ?? 'usual'}
          options={[
            { value: 'usual', text: 'not described: a usual plate cooler' },
            { value: 'plate', text: 'plate cooler' },
            { value: 'coil', text: 'coil in the kettle' },
          ]}
          onValue={(how) => {
            const { cooler: _old, ...rest } = kit;
            onKit(how === 'usual' ? rest : { ...rest, cooler: { how: how as 'plate' | 'coil' } });
          }}
        />
        {cooler !== undefined && (
          <>
            <NumberField
              label="Heat transfer"
              path="cooler.uaWK"
              unit="W/K"
              value={cooler.uaWK}
              min={10}
              max={1e6}
              optional
              empty={
                cooler.how === 'plate' && cooler.log
                  ? 'from the run below'
                  : 'by the litres of wort'
              }
              onValue={(uaWK) => set({ uaWK })}
            />
            <QuantityField
              label="Cold liquor through it, a minute"
              path="cooler.liquorLMin"
              kind="volume"
              value={cooler.liquorLMin}
              min={0.1}
              max={1e4}
              optional
              near={20}
              empty="twice the wort"
              onValue={(liquorLMin) => set({ liquorLMin })}
            />
            <NumberField
              label="Wort left in hoses and cooler"
              path="cooler.lossShare"
              unit="%"
              value={percent(cooler.lossShare)}
              min={0}
              max={30}
              optional
              empty="2"
              onValue={(pct) => set({ lossShare: share(pct) })}
            />
          </>
        )}
        {cooler?.how === 'plate' && (
          <QuantityField
            label="Most wort through it, a minute"
            path="cooler.mostWortLMin"
            kind="volume"
            value={cooler.mostWortLMin}
            min={0.1}
            max={1e4}
            optional
            near={20}
            empty="no limit"
            onValue={(mostWortLMin) => set({ mostWortLMin })}
          />
        )}
      </div>
      {cooler?.how === 'plate' && (
        <>
          <Tick
            label="Known from one knock-out as it was read (the honest way)"
            value={cooler.log !== undefined}
            onValue={(on) => set({ log: on ? FIRST_LOG : undefined })}
          />
          {cooler.log !== undefined && <CoolerRun log={cooler.log} onLog={(log) => set({ log })} />}
        </>
      )}
      <p class="small soft">
        Caustic and acid cleaners burn: goggles and gloves, add them to water and never the other
        way round, rinse until neutral. The supplier's sheet and your own rules of work come first.
      </p>
    </section>
  );
}

type PlateLog = NonNullable<Extract<CoolerKit, { how: 'plate' }>['log']>;

/** One knock-out, and the heat transfer that comes out of it. */
function CoolerRun({ log, onLog }: { log: PlateLog; onLog: (log: PlateLog) => void }) {
  const flow = (label: string, field: 'wortLMin' | 'liquorLMin') => (
    <QuantityField
      label={label}
      path={`cooler.log.${field}`}
      kind="volume"
      value={log[field]}
      min={0.1}
      max={1e4}
      onValue={(x) => x !== undefined && onLog({ ...log, [field]: x })}
    />
  );
  const temp = (label: string, field: 'fromC' | 'toC' | 'liquorInC', min: number, max: number) => (
    <QuantityField
      label={label}
      path={`cooler.log.${field}`}
      kind="temperature"
      value={log[field]}
      min={min}
      max={max}
      onValue={(x) => x !== undefined && onLog({ ...log, [field]: x })}
    />
  );
  return (
    <>
      <div class="fields">
        {flow('Wort, a minute', 'wortLMin')}
        {flow('Cold liquor, a minute', 'liquorLMin')}
        {temp('Wort before', 'fromC', 40, 105)}
        {temp('Wort after', 'toC', 1, 60)}
        {temp('Cold liquor in', 'liquorInC', 0, 40)}
      </div>
      <p class="plain" role="status">
        {transferText(log)}
      </p>
    </>
  );
}

function transferText(log: PlateLog): string {
  try {
    const ua = plateUa(log);
    return `That run makes ${ua.toFixed(0)} W/K. When the same readings give less, the cooler is fouled.`;
  } catch {
    return `No cooler brings the wort to ${show('temperature', log.toC)} with liquor at ${show('temperature', log.liquorInC)} and these flows. Read the flows and temperatures once more.`;
  }
}
