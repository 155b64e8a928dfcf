/** A mash and a day that the kit at hand cannot even be asked for. */
import type { Day, Mash, PlanDocument, Raise } from '@ladlework/planner';
import { contradiction, type FieldError } from './errors.ts';
import { kitContradictions } from './kit-check.ts';
import type { Kit } from './parts.ts';
import { workContradictions } from './work-check.ts';

/**
 * What contradicts itself in a plan document. Whether the kit can reach the rests is the planner's
 * to say; here is only what makes the question meaningless.
 *
 * @param document of the right shape, each field in its range
 */
export function documentContradictions(document: PlanDocument): FieldError[] {
  const { kit, mash, day } = document;
  return [
    ...kitContradictions(kit, document, ['kit']),
    ...nameErrors(document),
    ...restErrors(document, mash),
    ...mash.raises.flatMap((raise, n) => raiseErrors(document, raise, n)),
    ...dayErrors(document, kit, day),
    ...workContradictions(document),
  ];
}

const heats = (kit: Kit, vessel: string): boolean =>
  kit.burners.some((b) => b.heats.includes(vessel));

function vesselError(
  document: PlanDocument,
  steps: readonly (string | number)[],
  id: string,
): FieldError[] {
  const known = document.kit.vessels.map((v) => v.id).join(', ');
  if (document.kit.vessels.some((v) => v.id === id)) return [];
  const why = `"${id}" is no vessel of the kit; known: ${known}.`;
  return [contradiction(document, steps, id, known, why)];
}

function nameErrors(document: PlanDocument): FieldError[] {
  const { kit, mash, day } = document;
  const errors = [
    ...vesselError(document, ['mash', 'tun'], mash.tun),
    ...vesselError(document, ['mash', 'liquorVessel'], mash.liquorVessel),
    ...(mash.park === undefined ? [] : vesselError(document, ['mash', 'park'], mash.park)),
  ];
  const others = kit.vessels.filter((v) => v.id !== mash.tun).map((v) => v.id);
  if (mash.layout === 'kettle-mash' && (mash.park === undefined || mash.park === mash.tun)) {
    const allowed = others.join(', ') || 'a second vessel in the kit';
    const why = `mashing in the kettle needs another vessel to park the rest of the mash in; allowed: ${allowed}.`;
    errors.push(contradiction(document, ['mash', 'park'], mash.park, allowed, why));
  }
  if (day.kettleC === undefined && !heats(kit, mash.liquorVessel)) {
    const heated = kit.vessels.filter((v) => heats(kit, v.id)).map((v) => v.id);
    const allowed = heated.join(', ') || 'a vessel with a burner';
    const why = `no burner heats "${mash.liquorVessel}" and day.kettleC does not say that the liquor is hot; allowed: ${allowed}.`;
    errors.push(contradiction(document, ['mash', 'liquorVessel'], mash.liquorVessel, allowed, why));
  }
  for (const key of ['pullRoute', 'strikeRoute'] as const) {
    const id = mash[key];
    if (id === undefined || kit.routes.some((r) => r.id === id)) continue;
    const known = kit.routes.map((r) => r.id).join(', ') || 'none';
    const why = `"${id}" is no route of the kit; known: ${known}.`;
    errors.push(contradiction(document, ['mash', key], id, known, why));
  }
  return errors;
}

function restErrors(document: PlanDocument, mash: Mash): FieldError[] {
  const errors: FieldError[] = [];
  const { rests, raises } = mash;
  rests.forEach((rest, n) => {
    const before = rests[n - 1];
    if (before === undefined || rest.tempC > before.tempC) return;
    const why = `${rest.tempC} °C does not come after the ${before.tempC} °C before it: each rest is warmer than the last; allowed: above ${before.tempC} °C.`;
    const steps = ['mash', 'rests', n, 'tempC'];
    errors.push(contradiction(document, steps, rest.tempC, `above ${before.tempC} °C`, why));
  });
  if (raises.length !== rests.length - 1) {
    const wanted = rests.length - 1;
    const why = `${rests.length} rests need ${wanted} raises between them, and there are ${raises.length}; allowed: ${wanted}.`;
    errors.push(contradiction(document, ['mash', 'raises'], raises.length, String(wanted), why));
  }
  return errors;
}

function raiseErrors(document: PlanDocument, raise: Raise, n: number): FieldError[] {
  const { kit, mash } = document;
  const at = ['mash', 'raises', n];
  // After the first raise of a kettle mash the rests are held where the mash was parked.
  const holder = mash.layout === 'kettle-mash' && n > 0 ? (mash.park ?? mash.tun) : mash.tun;
  if (raise.by === 'decoction') return decoctionErrors(document, raise, n, at);
  if (raise.by === 'direct-heat' && !heats(kit, holder)) {
    const why = `no burner heats "${holder}", which holds the mash; give it one or raise by decoction or liquor.`;
    return [contradiction(document, [...at, 'by'], raise.by, 'decoction, liquor', why)];
  }
  const next = mash.rests[n + 1];
  if (raise.by === 'liquor' && raise.tempC !== undefined && next && raise.tempC <= next.tempC) {
    const allowed = `above ${next.tempC} °C`;
    const why = `liquor of ${raise.tempC} °C cannot raise the mash to ${next.tempC} °C; allowed: ${allowed}.`;
    return [contradiction(document, [...at, 'tempC'], raise.tempC, allowed, why)];
  }
  return [];
}

function decoctionErrors(
  document: PlanDocument,
  raise: Extract<Raise, { by: 'decoction' }>,
  n: number,
  at: readonly (string | number)[],
): FieldError[] {
  const { kit, mash } = document;
  const errors: FieldError[] = [];
  const kettleFirst = mash.layout === 'kettle-mash' && n === 0;
  raise.pots.forEach((id, k) => {
    const steps = [...at, 'pots', k];
    const unknown = vesselError(document, steps, id);
    if (unknown.length > 0) {
      errors.push(...unknown);
      return;
    }
    const heated = kit.vessels.filter((v) => heats(kit, v.id)).map((v) => v.id);
    if (!heated.includes(id)) {
      const allowed = heated.join(', ') || 'none: no burner in the kit';
      const why = `no burner heats "${id}", so nothing can boil in it; allowed: ${allowed}.`;
      errors.push(contradiction(document, steps, id, allowed, why));
    }
    const holder = mash.layout === 'kettle-mash' ? mash.park : mash.tun;
    if (id === holder) {
      const why = `"${id}" holds the mash that stays, so the pull cannot boil in it; allowed: another vessel.`;
      errors.push(contradiction(document, steps, id, 'another vessel', why));
    }
    if (raise.order === 'side-by-side' && raise.pots.indexOf(id) !== k) {
      const why = `"${id}" is named twice and cannot boil beside itself; name each pot once, or boil one load after another.`;
      errors.push(contradiction(document, steps, id, 'each pot once', why));
    }
  });
  if (kettleFirst && (raise.pots.length !== 1 || raise.pots[0] !== mash.tun)) {
    const why = `in a kettle mash the first pull boils where it was mashed in; allowed: "${mash.tun}" alone.`;
    errors.push(contradiction(document, [...at, 'pots'], raise.pots.join(', '), mash.tun, why));
  }
  const rest = mash.rests[n];
  if (raise.pullRest && rest && raise.pullRest.tempC <= rest.tempC) {
    const allowed = `above ${rest.tempC} °C`;
    const why = `a rest of ${raise.pullRest.tempC} °C inside the pull is not on the way up from ${rest.tempC} °C; allowed: ${allowed}.`;
    const steps = [...at, 'pullRest', 'tempC'];
    errors.push(contradiction(document, steps, raise.pullRest.tempC, allowed, why));
  }
  return errors;
}

function dayErrors(document: PlanDocument, kit: Kit, day: Day): FieldError[] {
  const errors: FieldError[] = [];
  const known = kit.hands.map((h) => h.id).join(', ');
  day.hands?.forEach((id, n) => {
    if (kit.hands.some((h) => h.id === id)) return;
    const why = `"${id}" is nobody of this kit; known: ${known}.`;
    errors.push(contradiction(document, ['day', 'hands', n], id, known, why));
  });
  const tun = kit.vessels.find((v) => v.id === document.mash.tun);
  if (tun && (day.preheatTunL ?? 0) > tun.brimL) {
    const allowed = `up to ${tun.brimL} L`;
    const why = `${day.preheatTunL} L do not fit into ${tun.name}; allowed: ${allowed}.`;
    errors.push(contradiction(document, ['day', 'preheatTunL'], day.preheatTunL, allowed, why));
  }
  return errors;
}
