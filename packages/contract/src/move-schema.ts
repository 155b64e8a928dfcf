/** A move of the day as it comes over the wire: what a way out of a miss made of the plan. */
import type { WayPlayed } from '@ladlework/planner';
import * as v from 'valibot';
import { few, line, plain, sheet, shortId } from './fields.ts';

const base = {
  id: shortId(),
  hands: few(shortId(), 0, 20),
  earliestMin: v.exactOptional(plain(0, 10_000, 'min')),
  note: v.exactOptional(line(300)),
};
const vessel = { ...base, vessel: shortId() };
const heated = { ...vessel, burner: shortId() };
const minutes = () => plain(0, 1440, 'min');
const litres = () => plain(0, 20_000, 'L');
const tempC = () => plain(-10, 120, '°C');
const carried = { ...base, from: shortId(), to: shortId(), route: shortId() };

const thickness = v.union([
  v.picklist(['thick', 'as-it-comes', 'thin']),
  sheet({ liquorLPerKg: plain(0.2, 200, 'L/kg') }),
]);

type Move = WayPlayed['moves'][number];

/** Shape and ranges; that it names what the kit has is the planner's to check. */
export const MoveSchema: v.GenericSchema<unknown, Move> = v.variant('kind', [
  sheet({
    ...vessel,
    kind: v.literal('fill'),
    litres: litres(),
    tempC: tempC(),
    minutes: minutes(),
  }),
  sheet({
    ...heated,
    kind: v.literal('heat'),
    to: v.union([tempC(), v.literal('boil')]),
    maxKPerMin: v.exactOptional(plain(0.01, 20)),
    maxMinutes: v.exactOptional(minutes()),
    lidOn: v.boolean(),
  }),
  sheet({ ...heated, kind: v.literal('hold'), minutes: minutes(), lidOn: v.boolean() }),
  sheet({ ...heated, kind: v.literal('boil'), minutes: minutes(), power: plain(0.05, 1) }),
  sheet({
    ...vessel,
    kind: v.literal('preheat'),
    from: shortId(),
    litres: litres(),
    minutes: minutes(),
  }),
  sheet({
    ...vessel,
    kind: v.literal('mash-in'),
    from: shortId(),
    litres: litres(),
    grist: sheet({ kg: plain(0, 10_000, 'kg'), tempC: tempC(), moisture: plain(0, 0.15) }),
    minutes: minutes(),
  }),
  sheet({
    ...vessel,
    kind: v.literal('rest'),
    minutes: minutes(),
    unstirred: v.exactOptional(v.literal(true)),
    until: v.exactOptional(sheet({ move: shortId(), minutes: minutes() })),
  }),
  sheet({ ...carried, kind: v.literal('pull'), litres: litres(), thickness }),
  sheet({
    ...carried,
    kind: v.literal('return'),
    stopAtC: v.exactOptional(tempC()),
    litres: v.exactOptional(litres()),
  }),
  sheet({
    ...carried,
    kind: v.literal('pour'),
    litres: litres(),
    stopAtC: v.exactOptional(tempC()),
  }),
  sheet({ ...vessel, kind: v.literal('rinse'), minutes: minutes() }),
  sheet({ ...vessel, kind: v.literal('wait'), minutes: minutes(), lidOn: v.boolean() }),
]) as unknown as v.GenericSchema<unknown, Move>;
