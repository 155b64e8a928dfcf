/** The rest of the day, when it names what the kit does not have or fits into no window. */
import type { Day, PlanDocument } from '@ladlework/planner';
import { contradiction, type FieldError } from './errors.ts';

/** What contradicts itself in the work, the events, the breaks and the limits of a day. */
export function workContradictions(document: PlanDocument): FieldError[] {
  const { day } = document;
  return [
    ...workErrors(document, day),
    ...hopErrors(document),
    ...peopleErrors(document, day),
    ...limitErrors(document),
  ];
}

function workErrors(document: PlanDocument, day: Day): FieldError[] {
  const { work } = day;
  if (work === undefined) return [];
  const known = document.kit.vessels.map((v) => v.id);
  const named: [(string | number)[], string][] = [
    ...(work.parkIn === undefined ? [] : [[['parkIn'], work.parkIn] as [string[], string]]),
    ...(work.fermenter === undefined
      ? []
      : [[['fermenter'], work.fermenter] as [string[], string]]),
    ...(work.boilIn ?? []).map((id, n): [(string | number)[], string] => [['boilIn', n], id]),
  ];
  const errors = named
    .filter(([, id]) => !known.includes(id))
    .map(([steps, id]) => {
      const why = `"${id}" is no vessel of the kit; known: ${known.join(', ')}.`;
      return contradiction(document, ['day', 'work', ...steps], id, known.join(', '), why);
    });
  if (document.beer.hops !== undefined && work.hopsBeforeEndMin !== undefined) {
    const why =
      'the beer lists its hops with their minutes, so they are not stated a second time; allowed: leave it out.';
    const steps = ['day', 'work', 'hopsBeforeEndMin'];
    errors.push(contradiction(document, steps, work.hopsBeforeEndMin, 'leave it out', why));
  }
  const { boilMin } = work;
  work.hopsBeforeEndMin?.forEach((minutes, n) => {
    if (boilMin === undefined || minutes <= boilMin) return;
    const allowed = `up to ${boilMin} min`;
    const why = `hops ${minutes} min before the end of a boil of ${boilMin} min would go in before it; allowed: ${allowed}.`;
    const steps = ['day', 'work', 'hopsBeforeEndMin', n];
    errors.push(contradiction(document, steps, minutes, allowed, why));
  });
  return errors;
}

/** Hops that would go in before the boil has begun. */
function hopErrors(document: PlanDocument): FieldError[] {
  const boilMin = document.day.work?.boilMin;
  if (boilMin === undefined) return [];
  return (document.beer.hops ?? []).flatMap((hop, n) => {
    if (hop.boilMin === 'stand' || hop.boilMin <= boilMin) return [];
    const allowed = `up to ${boilMin} min, or "stand"`;
    const why = `${hop.name} ${hop.boilMin} min before the end of a boil of ${boilMin} min would go in before it; allowed: ${allowed}.`;
    return [contradiction(document, ['beer', 'hops', n, 'boilMin'], hop.boilMin, allowed, why)];
  });
}

function peopleErrors(document: PlanDocument, day: Day): FieldError[] {
  const known = day.hands ?? document.kit.hands.map((h) => h.id);
  const unknown = (id: string, steps: readonly (string | number)[]): FieldError[] => {
    if (known.includes(id)) return [];
    const why = `"${id}" is not at work that day; known: ${known.join(', ')}.`;
    return [contradiction(document, ['day', ...steps], id, known.join(', '), why)];
  };
  const errors = (day.breaks ?? []).flatMap((pause, n) =>
    unknown(pause.hand, ['breaks', n, 'hand']),
  );
  day.events?.forEach((event, n) => {
    errors.push(...(event.anyOf ?? []).flatMap((id, k) => unknown(id, ['events', n, 'anyOf', k])));
    const most = event.anyOf?.length ?? known.length;
    if (event.hands <= most) return;
    const why = `${event.hands} pairs of hands are asked for and ${most} could come; allowed: up to ${most}.`;
    const steps = ['day', 'events', n, 'hands'];
    errors.push(contradiction(document, steps, event.hands, `up to ${most}`, why));
  });
  return errors;
}

/** A break longer than its window, whatever the rest of the day is. */
function limitErrors(document: PlanDocument): FieldError[] {
  return (document.day.breaks ?? []).flatMap((pause, n) => {
    if (pause.fromMin + pause.minutes <= pause.untilMin) return [];
    const allowed = `${pause.fromMin + pause.minutes} min or later`;
    const why = `a break of ${pause.minutes} min that begins ${pause.fromMin} min after day start is not over by ${pause.untilMin} min; allowed: ${allowed}.`;
    const steps = ['day', 'breaks', n, 'untilMin'];
    return [contradiction(document, steps, pause.untilMin, allowed, why)];
  });
}
