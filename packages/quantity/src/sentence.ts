/** Sentences of the engine, which speak house units, in the brewer's pair. */
import { format } from './format.ts';
import type { UnitPair } from './pair.ts';
import type { Kind } from './units.ts';

/** Units the engine writes in sentences, and what they measure there. */
const MEASURES: Readonly<Record<string, Kind>> = {
  '°C': 'temperature',
  K: 'temperatureDifference',
  'L/kg': 'ratio',
  L: 'volume',
  kg: 'mass',
  kW: 'power',
  cm: 'length',
  m: 'length',
};
/** The house unit counts lengths in metres; a sentence may say centimetres. */
const TO_HOUSE: Readonly<Record<string, number>> = { cm: 0.01 };

const QUANTITY =
  /(?<![\w.])(−|-)?(\d+(?:\.\d+)?)(?:(-|–| to )(\d+(?:\.\d+)?))? ?(°C|L\/kg|kW|kg|cm|K|L|m)(?![\w²³])/g;

/**
 * Puts every quantity of a sentence into the brewer's units; whole numbers stay whole. Words, times,
 * percentages and units that both pairs share are left as they are.
 *
 * @param sentence quantities with °C, K, L, L/kg, kg, kW, cm or m after the number; ranges as
 *   "45-52 °C" or "2 to 5 L/kg"
 * @param pair the brewer's units
 * @example sentenceIn('a rest at 45-52 °C', unitPair('us')) // "a rest at 113-126 °F"
 */
export function sentenceIn(sentence: string, pair: UnitPair): string {
  if (pair.name === 'metric') return sentence;
  return sentence.replace(
    QUANTITY,
    (_all, minus: string | undefined, first: string, dash: string | undefined, last, unit) => {
      const kind = MEASURES[unit as string] as Kind;
      const whole = kind === 'temperature' && !first.includes('.') && !last?.includes('.');
      const say = (digits: string, withUnit: boolean) =>
        format(kind, Number(digits) * (TO_HOUSE[unit as string] ?? 1), pair, {
          withUnit,
          ...(whole ? { digits: 0 } : {}),
        });
      if (dash === undefined) return say(`${minus === undefined ? '' : '-'}${first}`, true);
      const low = say(first, true);
      const high = say(last as string, true);
      const lowUnit = low.slice(low.indexOf(' '));
      return high.endsWith(lowUnit)
        ? `${minus ?? ''}${low.slice(0, -lowUnit.length)}${dash}${high}`
        : `${minus ?? ''}${low}${dash}${high}`;
    },
  );
}

/** Strengths; a difference ("0.4 °P under") is no strength and has no gravity of its own. */
const STRENGTH =
  /(?<!\bby )(?<![±\w.-])(\d+(?:\.\d+)?) °P(?! (?:under|over|weaker|stronger|apart|off|more|less))/g;

/**
 * Puts every strength of a sentence as specific gravity where the pair wants it so.
 *
 * @param sentence strengths as "12.5 °P"
 * @param pair the brewer's units
 * @param sgOf gravity at 20/20 °C of so many °P; the density of wort is not known in this room
 * @example gravitiesIn('stop at 2.0 °P', unitPair('us', { extract: 'sg' }), sgOf) // "stop at 1.008 SG"
 */
export function gravitiesIn(
  sentence: string,
  pair: UnitPair,
  sgOf: (plato: number) => number,
): string {
  if (pair.extract !== 'sg') return sentence;
  return sentence.replace(STRENGTH, (_all, plato) => `${sgOf(Number(plato)).toFixed(3)} SG`);
}
