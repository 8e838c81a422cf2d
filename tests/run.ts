/**
 * The whole test command: static checks, the build, then every test; ends with one line that counts.
 * Each static check counts as one. `npm test -- --only vitest` (or static, build) runs a part.
 */
import { spawn, spawnSync } from 'node:child_process';
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

/** What runs one after the other; the lanes run side by side. Linting takes about as long as all the rest. */
const staticLanes = [['lint'], ['format', 'types', 'imports', 'unused']] as const;
const only = process.argv.includes('--only') ? process.argv[process.argv.indexOf('--only') + 1] : undefined;
const wanted = (part: string): boolean => only === undefined || only === part;

let passed = 0;
let failed = 0;
let skipped = 0;

/** Prints what the script printed when it has ended, so that lanes don't mix. */
function npmRun(script: string): Promise<void> {
  const started = performance.now();
  const child = spawn('npm', ['run', '--silent', script], { stdio: ['ignore', 'pipe', 'pipe'] });
  const said: Buffer[] = [];
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (some: Buffer) => said.push(some));
  return new Promise((done) => {
    child.on('error', (error) => said.push(Buffer.from(String(error))));
    child.on('close', (code) => {
      const seconds = ((performance.now() - started) / 1000).toFixed(1);
      process.stdout.write(Buffer.concat(said));
      console.log(`${code === 0 ? 'ok  ' : 'FAIL'} ${script} (${seconds} s)`);
      tally(code === 0);
      done();
    });
  });
}

async function runStatic(): Promise<void> {
  await Promise.all(
    staticLanes.map(async (lane) => {
      for (const script of lane) await npmRun(script);
    }),
  );
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

if (wanted('static')) await runStatic();
// In a whole run the static checks have looked at the types already.
if (wanted('build')) await npmRun(only === undefined ? 'bundle' : 'build');
if (wanted('vitest')) runVitest();

console.log(
  `\n${String(passed)} passed, ${String(failed)} failed${skipped > 0 ? `, ${String(skipped)} skipped` : ''}`,
);
process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
