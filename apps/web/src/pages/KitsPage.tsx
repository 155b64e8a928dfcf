import type { Kit } from '@ladlework/brewhouse';
import { freshId } from '../data/base.ts';
import { kits, record } from '../data/house.ts';
import { goTo } from '../shell/location.ts';
import { hashOf } from '../shell/route.ts';
import { show } from '../units/show.ts';
import { newKit } from './kit-defaults.ts';
import { attempt, Trouble } from './trouble.tsx';

/** One line on what a kit is made of. */
export function kitLine(kit: Kit): string {
  const vessels = kit.vessels.map((v) => `${v.name} ${show('volume', v.brimL)}`).join(', ');
  return `${vessels}; ${kit.hands.length === 1 ? 'one pair of hands' : `${kit.hands.length} pairs of hands`}`;
}

async function save(kit: Kit): Promise<void> {
  await record({ stream: `kit:${kit.id}`, type: 'kit-saved', data: { kit } });
  goTo({ at: 'kit', id: kit.id });
}

export function KitsPage() {
  const list = kits.value;
  return (
    <>
      <header class="head">
        <div>
          <h1>Kit</h1>
          <p>
            Vessels, burners, ways to carry and hands. What is not known for sure widens the bands;
            a water test or a logged brew narrows them.
          </p>
        </div>
        <button
          type="button"
          class="btn solid"
          onClick={() => attempt('save the kit', () => save(newKit(freshId().slice(0, 12))))}
        >
          New kit
        </button>
      </header>
      <Trouble />
      {list.length === 0 ? (
        <p class="note">No kit yet. Describe the one you brew on: a tun and a pot are enough.</p>
      ) : (
        <ul class="shelf">
          {list.map((item) => (
            <li key={item.id} class="with-act">
              <a href={hashOf({ at: 'kit', id: item.id })}>
                <b>{item.name}</b>
                <span>{kitLine(item)}</span>
              </a>
              <button
                type="button"
                class="btn plain"
                aria-label={`Copy ${item.name}`}
                onClick={() =>
                  attempt('copy the kit', () =>
                    save({ ...item, id: freshId().slice(0, 12), name: `${item.name}, copy` }),
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
