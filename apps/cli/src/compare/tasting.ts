/** `compare FILE --tasting N`: the sheets of a blind tasting, or what its answers show. */
import {
  contradictions,
  type PlanDocument,
  publishedComparisons,
  tastingResult,
  tastingSheet,
} from '@ladlework/planner';
import { EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { wrapped } from './text.ts';

export interface TastingOptions {
  readonly json: boolean;
  readonly seed: number;
  readonly tasting: number;
  /** Right answers, when the tasting is over. */
  readonly right?: number;
}

/**
 * Lays out a triangle test of the decocted beer against the one of kilned malts, or judges it.
 *
 * @returns 0; 2 when there are more right answers than tasters
 */
export function tastingCommand(
  output: Output,
  document: PlanDocument,
  { json, seed, tasting: tasters, right }: TastingOptions,
): ExitCode {
  if (right !== undefined) {
    if (right > tasters)
      return refuse(output, `--right is ${right}; allowed: 0 to ${tasters}, the tasters.`);
    const result = tastingResult({ tasters, correct: right });
    if (json) writeJson(output, resultJson(result));
    else output.out(`${wrapped(result.sentence, '')}\n`);
    return EXIT.ok;
  }
  const { name } = document.beer;
  const names = { a: `${name} as planned`, b: `${name} with kilned malts` };
  const sheet = tastingSheet({ ...names, tasters, seed });
  if (json) writeJson(output, sheet);
  else
    output.out(
      [
        sheet.keyText
          .split('\n')
          .map((line) => wrapped(line, ''))
          .join('\n'),
        sheet.notes.map((n) => wrapped(`- ${n}`, '')).join('\n'),
        ...sheet.slipTexts.map((s) => `${'- '.repeat(40).trimEnd()}\n${s}`),
      ]
        .map((part) => `${part}\n`)
        .join('\n'),
    );
  return EXIT.ok;
}

const resultJson = (r: ReturnType<typeof tastingResult>) => ({
  chance: r.chance,
  ...(r.critical === undefined ? {} : { critical: r.critical }),
  different: r.different,
  distinguishers_at_most: r.distinguishersAtMost,
  text: r.sentence,
});

/** `compare FILE --published`: what has been published, with what contradicts it. */
export function publishedCommand(output: Output, json: boolean): ExitCode {
  if (json)
    writeJson(output, { findings: publishedComparisons(), contradictions: contradictions() });
  else
    output.out(
      [
        'Published of decoction against infusion',
        ...publishedComparisons().map((f) =>
          wrapped(`${f.topic}: ${f.finding} (${f.source})`, '  '),
        ),
        '',
        'These do not agree',
        ...contradictions().map((c) => wrapped(`${c.topic}: ${c.text}`, '  ')),
        '',
        wrapped(
          'Quoted as reported: no figure of a plan rests on them, and none promises flavour.',
          '',
        ),
        '',
      ].join('\n'),
    );
  return EXIT.ok;
}
