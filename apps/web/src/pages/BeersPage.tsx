import { freshId } from '../data/base.ts';
import { type BeerSheet, beers, record } from '../data/house.ts';
import { goTo } from '../shell/location.ts';
import { hashOf } from '../shell/route.ts';
import { show } from '../units/show.ts';
import { newMash } from './mash-fit.ts';
import { attempt, Trouble } from './trouble.tsx';

/** Grist and rests in one line. */
export function beerLine({ beer, mash }: BeerSheet): string {
  const kg = beer.malts.reduce((sum, malt) => sum + malt.kg, 0);
  const grist = `${show('mass', kg)} of ${beer.malts.map((m) => m.name).join(', ')}`;
  const rests = mash?.rests.map((r) => show('temperature', r.tempC, 0)).join(' → ');
  return rests === undefined ? grist : `${grist}; ${rests}`;
}

async function save({ mash, ...sheet }: BeerSheet): Promise<void> {
  const { beer } = sheet;
  const data = mash === undefined ? sheet : { ...sheet, mash };
  await record({ stream: `beer:${beer.id}`, type: 'beer-saved', data });
  goTo({ at: 'beer', id: beer.id });
}

export function BeersPage() {
  const list = beers.value;
  return (
    <>
      <header class="head">
        <div>
          <h1>Beers</h1>
          <p>Grist with its certificates, and how it is mashed. The kit is chosen for each brew.</p>
        </div>
        <button
          type="button"
          class="btn solid"
          onClick={() =>
            attempt('save the beer', () =>
              save({
                beer: {
                  id: freshId().slice(0, 12),
                  name: 'New beer',
                  malts: [{ name: 'Base malt', kg: 50, type: 'base' }],
                },
                mash: newMash(),
              }),
            )
          }
        >
          New beer
        </button>
      </header>
      <Trouble />
      {list.length === 0 ? (
        <p class="note">No beer yet. Start with the malts you weigh in and the rests you want.</p>
      ) : (
        <ul class="shelf">
          {list.map((sheet) => (
            <li key={sheet.beer.id} class="with-act">
              <a href={hashOf({ at: 'beer', id: sheet.beer.id })}>
                <b>{sheet.beer.name}</b>
                <span>{beerLine(sheet)}</span>
              </a>
              <button
                type="button"
                class="btn plain"
                aria-label={`Copy ${sheet.beer.name}`}
                onClick={() =>
                  attempt('copy the beer', () =>
                    save({
                      ...sheet,
                      beer: {
                        ...sheet.beer,
                        id: freshId().slice(0, 12),
                        name: `${sheet.beer.name}, copy`,
                      },
                    }),
                  )
                }
              >
                Copy
              </button>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
