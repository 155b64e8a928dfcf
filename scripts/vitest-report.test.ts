import { describe, expect, it } from 'vitest';
import { readVitestReport } from './vitest-report.mjs';

const test = (title: string, status: string, failureMessages: string[] = []) => ({
  ancestorTitles: ['strike'],
  title,
  status,
  failureMessages,
});
const file = (status: string, assertionResults: unknown[], message = '') => ({
  testResults: [{ name: '/clone/packages/x/src/x.test.ts', status, message, assertionResults }],
});

describe('counting a vitest run', () => {
  it('counts what passed', () => {
    const report = file('passed', [test('a', 'passed'), test('b', 'passed')]);
    expect(readVitestReport(report, 0, '/clone')).toEqual({ passed: 2, failures: [] });
  });

  it('names each failed test by its file and titles', () => {
    const report = file('failed', [
      test('a', 'passed'),
      test('b', 'failed', ['expected 1 to be 2']),
    ]);
    expect(readVitestReport(report, 1, '/clone')).toEqual({
      passed: 1,
      failures: [{ name: 'packages/x/src/x.test.ts > strike > b', message: 'expected 1 to be 2' }],
    });
  });

  it.each(['pending', 'skipped', 'todo', 'disabled'])(
    'takes a %s test for a failed one',
    (status) => {
      const report = file('passed', [test('a', 'passed'), test('b', status)]);
      expect(readVitestReport(report, 0, '/clone').failures).toHaveLength(1);
    },
  );

  it('counts a file that could not be loaded', () => {
    const { passed, failures } = readVitestReport(
      file('failed', [], 'no such module'),
      1,
      '/clone',
    );
    expect(passed).toBe(0);
    expect(failures).toEqual([{ name: 'packages/x/src/x.test.ts', message: 'no such module' }]);
  });

  it('counts an error outside every test', () => {
    const report = file('passed', [test('a', 'passed')]);
    expect(readVitestReport(report, 1, '/clone').failures).toHaveLength(1);
  });

  it.each([
    ['nothing ran', { testResults: [] }, 0],
    ['no report was written', undefined, 0],
    ['the run was killed', undefined, null],
  ])('fails when %s', (_, report, exitCode) => {
    expect(readVitestReport(report, exitCode, '/clone').failures).toHaveLength(1);
  });
});
