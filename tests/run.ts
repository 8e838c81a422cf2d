/**
 * The whole test command: the bundle, then every test with the static checks beside them; ends with one line that counts.
 * Each static check counts as one. `npm test -- --only static,bundle` runs parts; `-- --long` adds what `npm run test:long` runs.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import * as z from 'zod';

const vitestReport = z.object({
  numPassedTests: z.number(),
  numFailedTests: z.number(),
  numPendingTests: z.number(),
  numFailedTestSuites: z.number(),
  success: z.boolean(),
});

const parts = ['static', 'bundle', 'vitest', 'long'] as const;
type Part = (typeof parts)[number];
const staticScripts = ['lint', 'types', 'imports', 'unused', 'format'];

const { values } = parseArgs({
  options: { only: { type: 'string' }, long: { type: 'boolean', default: false } },
});
const wanted = (values.only ?? `static,bundle,vitest${values.long ? ',long' : ''}`).split(',');
const unknown = wanted.filter((part) => !parts.some((one) => one === part));
if (unknown.length > 0) {
  console.error(`There is no part ${unknown.join(', ')}: --only takes ${parts.join(', ')}.`);
  process.exit(2);
}
const wants = (part: Part): boolean => wanted.includes(part);

let passed = 0;
let failed = 0;
let skipped = 0;

/** Prints what the script printed when it has ended, so that it does not mix with what runs beside it. */
function npmRun(script: string): Promise<void> {
  const started = performance.now();
  const child = spawn('npm', ['run', '--silent', script], { stdio: ['ignore', 'pipe', 'pipe'] });
  const printed: Buffer[] = [];
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (some: Buffer) => printed.push(some));
  return new Promise((done) => {
    child.on('error', (error) => printed.push(Buffer.from(String(error))));
    child.on('close', (code) => {
      const seconds = ((performance.now() - started) / 1000).toFixed(1);
      process.stdout.write(Buffer.concat(printed));
      console.log(`${code === 0 ? 'ok  ' : 'FAIL'} ${script} (${seconds} s)`);
      if (code === 0) passed += 1;
      else failed += 1;
      done();
    });
  });
}

async function runStatic(): Promise<void> {
  for (const script of staticScripts) await npmRun(script);
}

async function runVitest(...options: readonly string[]): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-tests-'));
  const file = join(folder, 'report.json');
  const child = spawn(
    'npx',
    ['vitest', 'run', ...options, '--reporter=default', '--reporter=json', `--outputFile.json=${file}`],
    { stdio: 'inherit' },
  );
  const status = await new Promise<number | null>((ended) => {
    child.on('error', () => {
      ended(null);
    });
    child.on('close', ended);
  });
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

// Tests start the built server; whether its types are right is a static check.
if (wants('bundle')) await npmRun('bundle');
await Promise.all([wants('static') ? runStatic() : undefined, wants('vitest') ? runVitest() : undefined]);
if (wants('long')) await runVitest('--config', 'tests/long.config.ts');

console.log(
  `\n${String(passed)} passed, ${String(failed)} failed${skipped > 0 ? `, ${String(skipped)} skipped` : ''}`,
);
process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
