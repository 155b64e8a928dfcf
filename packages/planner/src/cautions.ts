/** Cautions at the move where the hand is about to act. Local codes and trained people decide. */
import type { Kit, Move, Trace } from '@ladlework/brewhouse';
import { liftingLimit, seriousBurnTime } from '@ladlework/matter';
import type { BrewDay } from './day.ts';
import type { Caution } from './plan.ts';

/** A hot open load is capped at this. @source physics.md 5.1, our judgement */
const HOT_PORTION_KG = 8;
/** Empty bucket or ladle [kg]; our judgement. */
const BUCKET_KG = 1.2;
/** A bucket from the floor over the rim of a tun: hands' distance, start, travel, twist. @source physics.md 5.1, brewhouse cases */
const BUCKET_LIFT = {
  horizontalCm: 30,
  verticalCm: 10,
  travelCm: 100,
  asymmetryDeg: 0,
  coupling: 'good',
} as const;
/** Above this grain is not boiled. @source field.md 1.24 */
const PH_LIMIT = 5.8;
const GAS = new Set(['gas-hob', 'outdoor-propane', 'gas-burner']);

/**
 * Cautions for every move that needs one.
 * @param day the day
 * @param moves the planned moves
 * @param trace their simulation, for temperatures and loads
 * @source physics.md 5.1 (revised NIOSH lifting equation, indicative), 5.2, 5.3
 */
export function cautionsOf(day: BrewDay, moves: readonly Move[], trace: Trace): Caution[] {
  const found: Caution[] = [];
  let lit = false;
  let mashedIn = false;
  for (const move of moves) {
    if (move.kind === 'mash-in') mashedIn = true;
    // A kettle that boils the pull later heats nothing but liquor until the grist is in.
    const heatsMash = move.kind === 'heat' && mashedIn && !isLiquor(day, move.vessel);
    const done = trace.moves.find((m) => m.id === move.id);
    if (
      (move.kind === 'pull' || move.kind === 'return' || move.kind === 'pour') &&
      done?.transfer
    ) {
      const hotC = Math.max(done.transfer.sourceC, done.transfer.beforeC);
      const text = scaldText(hotC);
      if (text) found.push({ moveId: move.id, code: 'scald', text, severity: hotC });
      const lift = liftCaution(day.kit, move, done.transfer.kg, done.transfer.portions);
      if (lift) found.push({ moveId: move.id, code: 'lifting', ...lift });
    }
    if (move.kind === 'boil' || (heatsMash && move.to === 'boil'))
      found.push({
        moveId: move.id,
        code: 'boil-over',
        text: 'It foams as the starch gels and again at the boil: turn down for the last 5 K, hose at hand, do not leave it.',
      });
    if (heatsMash)
      found.push({
        moveId: move.id,
        code: 'scorch',
        text: 'Still, thick mash scorches: stir the bottom without a break until it is thin.',
      });
    if (move.kind === 'boil' && (day.document.beer.mashPh ?? 0) > PH_LIMIT)
      found.push({
        moveId: move.id,
        code: 'ph',
        text: `Mash pH ${day.document.beer.mashPh} is over ${PH_LIMIT}: bring it down before grain is boiled.`,
      });
    if ('burner' in move && !lit && burnsGas(day.kit, move.burner)) {
      lit = true;
      found.push({ moveId: move.id, code: 'burner-co', text: coText(day.kit) });
    }
  }
  return found;
}

function isLiquor(day: BrewDay, vessel: string): boolean {
  return vessel === day.liquorVessel.id && vessel !== day.tun.id && !isPot(day, vessel);
}

function isPot(day: BrewDay, vessel: string): boolean {
  return day.document.mash.raises.some((r) => r.by === 'decoction' && r.pots.includes(vessel));
}

function burnsGas(kit: Kit, burner: string): boolean {
  const kind = kit.burners.find((b) => b.id === burner)?.kind;
  return kind !== undefined && GAS.has(kind);
}

/** Nothing where the table of burns begins above it. */
function scaldText(tempC: number): string | undefined {
  const s = seriousBurnTime(Math.min(100, tempC));
  if (!Number.isFinite(s)) return undefined;
  const time = s < 1 ? 'at once' : `in about ${s < 10 ? s.toFixed(0) : Math.round(s / 5) * 5} s`;
  return `Mash at ${tempC.toFixed(0)} °C burns ${time} and sticks: sleeves down, face away, dry footing, cold water near.`;
}

function coText(kit: Kit): string {
  return kit.burnersIndoors
    ? 'Gas burns indoors here: hood or cross-draught on, carbon-monoxide alarm live (exposure limit 35 ppm over a shift). An outdoor burner stays outdoors. Local code decides.'
    : 'Light the burner outdoors or under a ducted hood, nothing that burns near it. Local code decides.';
}

function liftCaution(
  kit: Kit,
  move: { route: string },
  kg: number,
  portions: number,
): { text: string; severity: number } | undefined {
  const route = kit.routes.find((r) => r.id === move.route);
  if (!route || (route.how !== 'bucket' && route.how !== 'ladle') || portions === 0)
    return undefined;
  const loadKg = kg / portions + BUCKET_KG;
  const perMin = Math.max(0.2, Math.min(15, 1 / Math.max(0.05, route.minutesPerPortion)));
  const limit = liftingLimit({ ...BUCKET_LIFT, liftsPerMin: perMin, hours: 1 }, loadKg);
  const over = limit.index !== undefined && limit.index > 1;
  if (!over && loadKg <= HOT_PORTION_KG) return undefined;
  const text = `${loadKg.toFixed(1)} kg a time, ${portions} times; the lifting guide allows ${limit.limitKg.toFixed(1)} kg at best for a steady load, less for hot open liquid (NIOSH, indicative). Keep a hot load under ${HOT_PORTION_KG} kg or fill half.`;
  return { text, severity: loadKg };
}
