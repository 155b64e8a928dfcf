import { writeFileSync } from 'node:fs';

/**
 * @typedef {object} Failure
 * @property {string} name   what failed, findable in the source
 * @property {string} message
 */

/**
 * @typedef {object} Outcome
 * @property {number} passed
 * @property {Failure[]} failures
 */

/** Environment variable that names the file the outcome is written to. */
export const OUTCOME_FILE = 'LADLEWORK_OUTCOME_FILE';

/**
 * Vitest reporter that writes down what `npm test` needs to know of a run: an {@link Outcome}.
 *
 * A test that is skipped or still to be written proves nothing, so it counts as failed; so do a
 * file that could not be loaded, a hook that broke and an error outside every test.
 */
export default class CountReporter {
  /**
   * @param {readonly import('vitest/node').TestModule[]} modules
   * @param {readonly import('vitest/node').SerializedError[]} strayErrors
   */
  onTestRunEnd(modules, strayErrors) {
    const file = process.env[OUTCOME_FILE];
    if (!file) throw new Error(`${OUTCOME_FILE} must name the file to write the outcome to`);
    writeFileSync(file, JSON.stringify(outcomeOf(modules, strayErrors)));
  }
}

/**
 * @param {readonly import('vitest/node').TestModule[]} modules
 * @param {readonly import('vitest/node').SerializedError[]} strayErrors
 * @returns {Outcome}
 */
function outcomeOf(modules, strayErrors) {
  /** @type {Outcome} */
  const outcome = { passed: 0, failures: [] };
  const fail = (/** @type {string} */ name, /** @type {readonly any[]} */ errors) =>
    outcome.failures.push({ name, message: errors.map(describe).join('\n') });

  for (const module of modules) {
    const path = module.relativeModuleId;
    if (module.errors().length > 0) fail(path, module.errors());
    for (const suite of module.children.allSuites()) {
      if (suite.errors().length > 0) fail(`${path} > ${suite.fullName}`, suite.errors());
    }
    for (const test of module.children.allTests()) {
      const { state, errors } = test.result();
      const name = `${path} > ${test.fullName}`;
      if (state === 'passed') outcome.passed += 1;
      else if (state === 'failed') fail(name, errors);
      else fail(name, [{ message: `did not run (${test.options.mode ?? state})` }]);
    }
  }
  for (const error of strayErrors) fail('outside every test', [error]);
  return outcome;
}

/**
 * The message, the difference between expected and received, and where it happened.
 *
 * @param {{message: string, name?: string, diff?: string, stack?: string, stacks?: {file: string, line: number, column: number}[]}} error
 */
function describe(error) {
  const place = (error.stacks ?? []).find((frame) => !frame.file.includes('node_modules'));
  const where = place ? `at ${place.file}:${place.line}:${place.column}` : (error.stack ?? '');
  return [error.message, error.diff, where].filter(Boolean).join('\n');
}
