/** What a day burns. */
import {
  type Burner,
  type BurnerKind,
  burnerPowerKW,
  type Draw,
  type Kit,
  type Move,
  type Trace,
} from '@ladlework/brewhouse';

/** What the burners took in, as the meter counts it [kWh], and the mean price of it. */
interface Burnt {
  readonly energyKWh: number;
  readonly perKWh: number;
}

/**
 * What the burners took in: the heat of the ledger over what each burner makes of its input. A
 * draw's stronger burner makes more of the same input. Where burners differ, the heat is laid on
 * each by its kilowatts and the minutes it burnt; the price of a kilowatt-hour likewise.
 *
 * @param kit its burners
 * @param planned the moves as planned, by id
 * @param trace what came of them on the draw
 * @param draw the draw they were played on
 * @param price of a kilowatt-hour for a kind of burner [currency]; left out: 0
 */
export function burnt(
  kit: Kit,
  planned: ReadonlyMap<string, Move>,
  trace: Trace,
  draw: Draw,
  price: (kind: BurnerKind) => number = () => 0,
): Burnt {
  const burners = new Map(kit.burners.map((b) => [b.id, b]));
  let heat = 0;
  let input = 0;
  let paid = 0;
  for (const m of trace.moves) {
    const move = planned.get(m.id);
    if (!move || !('burner' in move)) continue;
    const burner = burners.get(move.burner) as Burner;
    const netKW = burnerPowerKW(burner, kit);
    const laid = netKW * (move.kind === 'boil' ? move.power : 1) * (m.endMin - m.startMin);
    const taken = laid / (netKW / burner.ratedKW);
    heat += laid;
    input += taken;
    paid += taken * price(burner.kind);
  }
  if (heat === 0) return { energyKWh: 0, perKWh: 0 };
  return {
    energyKWh: ((trace.ledger.burnerKJ / 3600) * (input / heat)) / draw.burner,
    perKWh: paid / input,
  };
}
