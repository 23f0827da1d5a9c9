/**
 * `npm test`: types, lint, the vitest projects and the browser jobs, in that order, all of them even when one fails.
 * Ends with one plain line that counts the tests.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ensureTools } from './tools.ts';

interface Count {
  readonly passed: number;
  readonly failed: number;
}

const scratch = mkdtempSync(join(tmpdir(), 'hingeline-tests-'));

function run(
  title: string,
  command: string,
  args: readonly string[],
  env: Readonly<Record<string, string>> = {},
): boolean {
  console.log(`\n== ${title}`);
  const outcome = spawnSync(command, args, { stdio: 'inherit', env: { ...process.env, ...env } });
  return outcome.status === 0;
}

function readReport(file: string): unknown {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return null;
  }
}

/** A check without tests of its own counts as one test. */
function check(title: string, command: string, args: readonly string[]): Count {
  return run(title, command, args) ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 };
}

function unitTests(): Count {
  const file = join(scratch, 'vitest.json');
  const ok = run('Unit, property, component and reference tests', 'vitest', [
    'run',
    '--reporter=dot',
    '--reporter=json',
    `--outputFile.json=${file}`,
  ]);
  const report = readReport(file) as { numPassedTests?: number; numFailedTests?: number } | null;
  const passed = report?.numPassedTests ?? 0;
  const failed = report?.numFailedTests ?? 0;
  return { passed, failed: ok ? failed : Math.max(1, failed) };
}

function browserTests(): Count {
  const file = join(scratch, 'browser.json');
  const ok = run(
    'Browser jobs in headless Chromium',
    'playwright',
    ['test', '--config', 'tests/browser/playwright.config.ts'],
    {
      PLAYWRIGHT_JSON_OUTPUT_NAME: file,
    },
  );
  const report = readReport(file) as { stats?: { expected?: number; unexpected?: number; flaky?: number } } | null;
  const passed = (report?.stats?.expected ?? 0) + (report?.stats?.flaky ?? 0);
  const failed = report?.stats?.unexpected ?? 0;
  return { passed, failed: ok ? failed : Math.max(1, failed) };
}

const missing = ensureTools();
for (const sentence of missing) console.error(sentence);

const counts = [
  check('Types', 'tsc', ['--noEmit']),
  check('Lint and format', 'biome', ['check', '--error-on-warnings', '.']),
  unitTests(),
  check('Production build', 'vite', ['build', '--logLevel', 'warn']),
  browserTests(),
];
rmSync(scratch, { recursive: true, force: true });

const passed = counts.reduce((sum, count) => sum + count.passed, 0);
const failed = counts.reduce((sum, count) => sum + count.failed, 0) + missing.length;
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
