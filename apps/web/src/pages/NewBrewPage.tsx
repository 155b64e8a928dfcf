import type { Hand, Kit } from '@ladlework/brewhouse';
import { type Beer, type Day, dayFrom, type Mash, type PlanDocument } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { type BeerSheet, beers, brewById, kits } from '../data/house.ts';
import { engine } from '../engine/client.ts';
import { DraftTexts, startDraft, useDraft } from '../form/draft.ts';
import { Pick } from '../form/fields.tsx';
import { goTo } from '../shell/location.ts';
import { show } from '../units/show.ts';
import { beerLine } from './BeersPage.tsx';
import { brewName } from './BrewsPage.tsx';
import { DayFields } from './brew/DayFields.tsx';
import { HourFields } from './brew/HourFields.tsx';
import { Places } from './brew/Places.tsx';
import { WorkFields } from './brew/WorkFields.tsx';
import { checkDocument } from './checks.ts';
import { kitLine } from './KitsPage.tsx';
import { MashFields } from './MashFields.tsx';
import { fitMash, newMash } from './mash-fit.ts';
import { planBrew } from './plan-brew.ts';
import { Complaints } from './SaveBar.tsx';
import { attempt, Trouble } from './trouble.tsx';
import { keepForWays } from './ways/of-brew.ts';

interface BrewDraft {
  readonly kit?: string;
  readonly beer?: string;
  /** Changed for this brew; absent means as the beer has it. */
  readonly mash?: Mash;
  readonly day?: Day;
  /** Hands with their hours of that day; absent means as the kit has them. */
  readonly hands?: readonly Hand[];
  /** The brew whose day this one shares. */
  readonly dayOf?: string;
}

const START: BrewDraft = {};
const USUAL_DAY: Day = { startMin: 360, liquorC: 12, gristC: 18 };
const DRAFT = 'brew.new';

/** Opens the new brew with this beer on the kit it was written for. */
export function startBrewOf(sheet: BeerSheet): void {
  const value: BrewDraft = {
    beer: sheet.beer.id,
    ...(sheet.kitId === undefined ? {} : { kit: sheet.kitId }),
  };
  startDraft(DRAFT, value);
  goTo({ at: 'new-brew' });
}

/**
 * Opens the new brew as one more on the day of another: the same kit, the same minute 0.
 *
 * @param dayOf the brew that begins the day
 * @param first its document
 */
export function startSecondBrew(dayOf: string, first: PlanDocument): void {
  const { events: _events, breaks: _breaks, work: _work, ...day } = first.day;
  const value: BrewDraft = { dayOf, kit: first.kit.id, beer: first.beer.id, day };
  startDraft(DRAFT, value);
  goTo({ at: 'new-brew' });
}

export function NewBrewPage() {
  const store = useDraft<BrewDraft>(DRAFT, START);
  const draft = store.draft.value.value;
  const set = (change: Partial<BrewDraft>) => store.set({ ...draft, ...change });
  const sheet = beers.value.find((b) => b.beer.id === draft.beer) ?? beers.value[0];
  const kitIds = [draft.kit, sheet?.kitId];
  const first = draft.dayOf === undefined ? undefined : brewById(draft.dayOf);
  const sharedKit = first?.document?.kit as Kit | undefined;
  const plainKit =
    sharedKit ??
    kitIds.map((id) => kits.value.find((k) => k.id === id)).find((k) => k !== undefined) ??
    kits.value[0];
  if (plainKit === undefined || sheet === undefined)
    return <Missing kit={plainKit} beer={sheet?.beer} />;
  const kit = draft.hands === undefined ? plainKit : { ...plainKit, hands: draft.hands };
  const { beer } = sheet;
  const mash = fitMash(draft.mash ?? sheet.mash ?? newMash(), kit);
  const day = draft.day ?? handsOf(kit, sheet.day) ?? USUAL_DAY;
  const document: PlanDocument = { kit, beer, mash, day };
  const setDay = (next: Day) => {
    if (next.startMin === day.startMin) return set({ day: next });
    // What has its own hour stays at it when the day begins at another.
    const moved = dayFrom({ ...document, day: { ...next, startMin: day.startMin } }, next.startMin);
    set({ day: moved.day, hands: moved.kit.hands });
  };
  return (
    <DraftTexts.Provider value={store}>
      <header class="head">
        <div>
          <h1>{first === undefined ? 'New brew' : 'One more brew'}</h1>
          <p>
            {first === undefined
              ? 'Kit, beer and day. The plan comes next; nothing is begun.'
              : `On the day of ${brewName(first)}, after it, on the same kit. The timetable then holds both.`}
          </p>
        </div>
      </header>
      <Trouble />
      <section class="block">
        <h2>On what, and what</h2>
        <div class="fields wide-fields">
          <Pick
            label="Kit"
            value={kit.id}
            options={(sharedKit === undefined ? kits.value : [sharedKit]).map((k) => ({
              value: k.id,
              text: k.name,
            }))}
            onValue={(id) => {
              const { day: _day, hands: _hands, ...rest } = draft;
              store.set({ ...rest, kit: id });
            }}
            hint={kitLine(kit)}
          />
          <Pick
            label="Beer"
            value={beer.id}
            options={beers.value.map((b) => ({ value: b.beer.id, text: b.beer.name }))}
            onValue={(id) => {
              const { mash: _mash, day: _day, kit: _kit, hands: _hands, ...rest } = draft;
              store.set({
                ...rest,
                beer: id,
                ...(first === undefined || draft.day === undefined ? {} : { day: draft.day }),
              });
            }}
            hint={beerLine(sheet)}
          />
        </div>
      </section>
      <section class="block">
        <h2>Where it happens</h2>
        <Places mash={mash} kit={kit} onMash={(next) => set({ mash: next })} />
      </section>
      <section class="block">
        <h2>Mash</h2>
        <details class="certificate">
          <summary>
            {mash.rests.map((r) => show('temperature', r.tempC, 0)).join(' → ')}{' '}
            <span class="soft">
              {draft.mash === undefined ? 'as the beer has it' : 'changed for this brew'}
            </span>
          </summary>
          <MashFields mash={mash} kit={kit} onMash={(next) => set({ mash: next })} />
        </details>
      </section>
      <section class="block">
        <h2>Day</h2>
        <DayFields
          day={day}
          kit={kit}
          onDay={setDay}
          startsWith={first === undefined ? undefined : brewName(first)}
        />
        <HourFields
          day={day}
          kit={kit}
          onDay={(day) => set({ day })}
          onHands={(hands) => set({ hands })}
        />
      </section>
      <section class="block">
        <h2>After the mash</h2>
        <WorkFields day={day} kit={kit} onDay={(day) => set({ day })} />
      </section>
      <PlanBar
        document={document}
        dayOf={draft.dayOf}
        unread={Object.keys(store.draft.value.texts).length}
        onDone={() => store.reset(START)}
      />
    </DraftTexts.Provider>
  );
}

/** The beer's day, with the hands this kit has. */
function handsOf(kit: Kit, day: Day | undefined): Day | undefined {
  if (day?.hands === undefined) return day;
  const hands = day.hands.filter((id) => kit.hands.some((h) => h.id === id));
  const { hands: _all, ...rest } = day;
  return hands.length === 0 ? rest : { ...rest, hands };
}

function Missing({ kit, beer }: { kit: Kit | undefined; beer: Beer | undefined }) {
  return (
    <div class="head">
      <div>
        <h1>New brew</h1>
        <p>
          {kit === undefined && (
            <>
              First <a href="#/kit">describe a kit</a>.{' '}
            </>
          )}
          {beer === undefined && (
            <>
              {kit === undefined ? 'Then' : 'First'} <a href="#/beers">write down a beer</a>.
            </>
          )}
        </p>
      </div>
    </div>
  );
}

interface PlanBarProps {
  readonly document: PlanDocument;
  readonly dayOf: string | undefined;
  readonly unread: number;
  readonly onDone: () => void;
}

function PlanBar({ document, dayOf, unread, onDone }: PlanBarProps) {
  const busy = useSignal(false);
  const problems = checkDocument(document);
  const plan = () =>
    attempt('plan this brew', async () => {
      busy.value = true;
      try {
        await planBrew(document, dayOf === undefined ? {} : { dayOf });
        onDone();
      } finally {
        busy.value = false;
      }
    });
  return (
    <>
      <Complaints list={problems} head="This brew cannot be planned:" />
      <div class="savebar">
        <button
          type="button"
          class="btn solid"
          disabled={busy.value || unread > 0 || problems.length > 0}
          onClick={plan}
        >
          {busy.value ? 'Planning …' : 'Plan it'}
        </button>
        <button
          type="button"
          class="btn"
          disabled={busy.value || unread > 0 || problems.length > 0}
          onClick={() => {
            keepForWays(document);
            goTo({ at: 'ways', id: 'new', part: 'side' });
          }}
        >
          Other ways
        </button>
        {busy.value && (
          <button type="button" class="btn" onClick={engine.stopPlanning}>
            Stop
          </button>
        )}
        <span class="soft" role="status">
          {unread > 0
            ? `${unread === 1 ? 'One field' : `${unread} fields`} cannot be read yet`
            : ''}
        </span>
      </div>
    </>
  );
}
