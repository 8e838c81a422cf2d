/**
 * The whole test command: static checks, the build, then every test; ends with one line that counts.
 * Each static check counts as one. `npm test -- --only vitest` (or static, build) runs a part.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';

const vitestReport = z.object({
  numPassedTests: z.number(),
  numFailedTests: z.number(),
  numPendingTests: z.number(),
  numFailedTestSuites: z.number(),
  success: z.boolean(),
});

const staticChecks = ['format', 'lint', 'types', 'imports', 'unused'] as const;
const only = process.argv.includes('--only') ? process.argv[process.argv.indexOf('--only') + 1] : undefined;
const wanted = (part: string): boolean => only === undefined || only === part;

let passed = 0;
let failed = 0;
let skipped = 0;

function npmRun(script: string): boolean {
  const started = performance.now();
  const { status } = spawnSync('npm', ['run', '--silent', script], { stdio: 'inherit' });
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  console.log(`${status === 0 ? 'ok  ' : 'FAIL'} ${script} (${seconds} s)`);
  return status === 0;
}

function tally(ok: boolean): void {
  if (ok) passed += 1;
  else failed += 1;
}

function runVitest(): void {
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-tests-'));
  const file = join(folder, 'report.json');
  const { status } = spawnSync(
    'npx',
    ['vitest', 'run', '--reporter=default', '--reporter=json', `--outputFile.json=${file}`],
    {
      stdio: 'inherit',
    },
  );
  try {
    const report = vitestReport.parse(JSON.parse(readFileSync(file, 'utf8')));
    passed += report.numPassedTests;
    failed += report.numFailedTests;
    skipped += report.numPendingTests;
    // A file that could not even be loaded, or an error outside of any test, is a failure as well.
    if (status !== 0 && report.numFailedTests === 0) failed += Math.max(1, report.numFailedTestSuites);
  } catch (error) {
    console.error(`The test runner left no readable report: ${String(error)}`);
    failed += 1;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

if (wanted('static')) for (const script of staticChecks) tally(npmRun(script));
if (wanted('build')) tally(npmRun('build'));
if (wanted('vitest')) runVitest();

console.log(
  `\n${String(passed)} passed, ${String(failed)} failed${skipped > 0 ? `, ${String(skipped)} skipped` : ''}`,
);
process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
