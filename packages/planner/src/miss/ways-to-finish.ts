/** Ways out that change how the mash ends: return now, finish as an infusion, brew less. */
import { type Burner, type Move, volumeOf } from '@ladlework/brewhouse';
import { type BrewDay, burnerFor } from '../day.ts';
import type { PlanDocument, Raise } from '../document.ts';
import { Stepper, touchedBy, vesselIn } from '../live-step.ts';
import { boilingLiquorMoves } from '../moves-of.ts';
import { sizeLiquor } from '../stages.ts';
import type { Built, Ground, Refused } from './ground.ts';
import { dayLeft } from './rest-of-day.ts';

const COOKS: ReadonlySet<Move['kind']> = new Set(['heat', 'hold', 'boil', 'wait']);

/** What is in the pots goes back as hot as it is. */
export function returnNow(way: Ground): Built | Refused {
  const text = 'Return now what is in the pot, as hot as it is';
  way.named = text;
  if (!way.s.open || way.s.pots.length === 0) return { text, whyNot: 'no pot holds mash' };
  return way.assemble(text, [], uncooked(way));
}

/** What is left of the raise without heating the pots on, and what that breaks off. */
function uncooked(way: Ground): {
  readonly current: readonly Move[];
  readonly ends: readonly string[];
} {
  const { pots, current, now } = way.s;
  const drops = (m: Move) =>
    m.id.startsWith('rest-on-') ||
    (COOKS.has(m.kind) && touchedBy(m).some((v) => pots.includes(v)) && !m.id.startsWith('kept'));
  return {
    current: current.filter((m) => !drops(m)),
    ends: current.flatMap((m) => (drops(m) && now.underway.get(m.id)?.tapped ? [m.id] : [])),
  };
}

/** Every raise to come by hot liquor, or by the burner of the tun; a pull that is out goes back. */
export function finishBy(way: Ground, by: Raise): Built | Refused {
  const { begun, open, now, middle } = way.s;
  const text =
    by.by === 'liquor' ? 'Finish as an infusion, with boiling liquor' : 'Finish on direct heat';
  way.named = text;
  const { mash } = way.document;
  const document: PlanDocument = {
    ...way.document,
    mash: { ...mash, raises: mash.raises.map((r, i) => (i < begun ? r : by)) },
  };
  if (begun >= mash.raises.length && !open) return { text, whyNot: 'no raise is left' };
  const day = dayLeft(way.s, document);
  if (by.by === 'liquor' && day.liquorBurner === undefined)
    return { text, whyNot: `no burner heats ${day.liquorVessel.name}` };
  const heater = burnerFor(day.kit, day.restTun.id);
  if (by.by === 'direct-heat' && heater === undefined)
    return { text, whyNot: `no burner heats ${day.restTun.name}` };
  let first: readonly Move[] = [];
  let current = way.s.current;
  let ends: readonly string[] = [];
  if (open) {
    ({ current, ends } = uncooked(way));
    const after = current.findLastIndex((m) => m.kind === 'return' && !m.id.startsWith('kept'));
    const returned = current.slice(0, after + 1);
    const then = now.stepper.day;
    const situation = situationAfter(way, then, returned);
    const raised = raiseNow(way, day, situation, by, heater);
    if (raised === undefined) return { text, whyNot: 'no amount of boiling liquor gets there' };
    first = [...returned, ...raised];
    current = current.slice(after + 1);
  }
  const built = way.assemble(text, first, { document, current, ends });
  if ('whyNot' in built) return built;
  const litres = built.moves.reduce((sum, m) => sum + (m.kind === 'pour' ? m.litres : 0), 0);
  const heldL = day.kit.vessels
    .filter((v) => v.id === day.restTun.id || way.s.pots.includes(v.id))
    .reduce((sum, v) => sum + volumeOf(vesselIn(middle, v.id), way.thermal(v.id)), 0);
  if (heldL + litres > day.restTun.brimL)
    return {
      text,
      whyNot: `it takes ${litres.toFixed(0)} L, and ${day.restTun.name} has room for ${Math.max(0, day.restTun.brimL - heldL).toFixed(0)} L`,
    };
  return { ...built, text: litres > 0 ? `${text}, ${litres.toFixed(0)} L in all` : text };
}

function situationAfter(way: Ground, day: BrewDay, moves: readonly Move[]) {
  const stepper = new Stepper(day);
  const { middle } = way.s;
  const end = moves.length === 0 ? middle : stepper.run(middle, moves);
  return end.situation;
}

function raiseNow(
  way: Ground,
  day: BrewDay,
  situation: ReturnType<typeof situationAfter>,
  by: Raise,
  heater: Burner | undefined,
): Move[] | undefined {
  const { begun, targetC } = way.s;
  if (by.by === 'direct-heat')
    return heater === undefined
      ? undefined
      : [
          {
            id: way.idFor(`raise-${begun}`),
            kind: 'heat',
            vessel: day.restTun.id,
            burner: heater.id,
            to: targetC,
            maxKPerMin: 1.5,
            lidOn: true,
            hands: day.hands.slice(-1),
            note: 'Heat the mash, stir',
          },
        ];
  const need = sizeLiquor(day, begun, situation, targetC, undefined, way.s.middle.draw);
  if (!need.reached) return undefined;
  if (need.litres < 0.5) return [];
  return boilingLiquorMoves(day, `w${begun}`, need.litres * 1.1, targetC).map((m) => ({
    ...m,
    id: way.idFor(m.id),
  }));
}

/** What is lost stays lost: the same strength, fewer litres, hops to match. */
export function brewLess(way: Ground): Built | Refused {
  const { now } = way.s;
  const litres = way.miss.litres ?? 0;
  const text = 'Brew that much less: the same strength, hops to match';
  const { beer } = way.document;
  const heldL = now.day.kit.vessels.reduce(
    (sum, v) => sum + volumeOf(vesselIn(way.s.middle, v.id), way.thermal(v.id)),
    0,
  );
  const wanted = beer.target?.tankL;
  if (litres <= 0 || wanted === undefined)
    return { text, whyNot: litres <= 0 ? 'nothing was lost' : 'the beer states no volume' };
  const share = Math.max(0.2, 1 - litres / (heldL + litres));
  const target = { ...beer.target, tankL: share * wanted };
  const hops = beer.hops?.map((h) => ({ ...h, kg: share * h.kg }));
  const document = {
    ...way.document,
    beer: { ...beer, target, ...(hops === undefined ? {} : { hops }) },
  };
  const more = `${text}, ${(share * wanted).toFixed(0)} L in the tank`;
  return way.assemble(more, [], { document });
}
