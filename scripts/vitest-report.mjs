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

/**
 * Counts of one vitest run, from its JSON report and its exit code.
 *
 * A test that is skipped or still to be written proves nothing, so it counts as failed; so does a
 * run in which no test ran, a file that could not be loaded, and an error outside every test.
 *
 * @param {any} report  parsed JSON report, or undefined when vitest wrote none
 * @param {number | null} exitCode  null when the run was killed
 * @param {string} root  folder that file names are told from
 * @returns {Outcome}
 */
export function readVitestReport(report, exitCode, root) {
  /** @type {Failure[]} */
  const failures = [];
  let passed = 0;
  for (const file of report?.testResults ?? []) {
    const path = String(file.name).replace(`${root}/`, '');
    const tests = file.assertionResults ?? [];
    for (const test of tests) {
      const name = `${path} > ${[...test.ancestorTitles, test.title].join(' > ')}`;
      if (test.status === 'passed') passed += 1;
      else if (test.status === 'failed') {
        failures.push({ name, message: (test.failureMessages ?? []).join('\n') });
      } else failures.push({ name, message: `did not run (${test.status})` });
    }
    const failedInside = tests.some((/** @type {any} */ test) => test.status === 'failed');
    if (file.status === 'failed' && !failedInside) {
      failures.push({ name: path, message: file.message || 'the file could not be loaded' });
    }
  }
  if (failures.length === 0 && exitCode !== 0) {
    const how = exitCode === null ? 'was killed' : `ended with code ${exitCode}`;
    failures.push({
      name: 'vitest',
      message: `${how} although no test failed; see its output above`,
    });
  }
  if (failures.length === 0 && passed === 0) {
    failures.push({ name: 'vitest', message: 'ran no test' });
  }
  return { passed, failures };
}
