/**
 * Every scenario of the simulator, end to end: `npm run scenarios [-- names] [--seed 4] [--jobs 2]`. Prints what was
 * expected beside what was raised, with the delay from the true beginning; ends non-zero where they differ.
 */
import { fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { scenarioCases, type ScenarioCase } from './expectations.ts';
import { runCase, type CaseResult } from './run-case.ts';

const { values, positionals: names } = parseArgs({
  allowPositionals: true,
  options: {
    seed: { type: 'string' },
    jobs: { type: 'string', default: '2' },
    /** For the children: runs the cases named and sends the results to the parent. */
    child: { type: 'boolean', default: false },
  },
});
const seed = whole('seed', values.seed);
const jobs = whole('jobs', values.jobs) ?? 2;
const unknown = names.find((name) => !scenarioCases.some(({ scenario }) => scenario === name));
if (unknown !== undefined) {
  console.error(
    `there is no scenario "${unknown}"; there are ${scenarioCases.map(({ scenario }) => scenario).join(', ')}`,
  );
  process.exit(2);
}
const cases = scenarioCases.filter(({ scenario }) => names.length === 0 || names.includes(scenario));

if (values.child) {
  for (const one of cases) process.send?.(await runCase(seeded(one)));
  process.disconnect();
} else {
  await parent();
}

async function parent(): Promise<void> {
  const beganMs = Date.now();
  const waiting = [...cases];
  const done = new Map<string, CaseResult>();
  const lane = async (): Promise<void> => {
    for (let one = waiting.shift(); one; one = waiting.shift()) done.set(one.scenario, await inChild(one));
  };
  console.log(line('scenario', 'alert', 'expected', 'raised', 'delay', 'ok'));
  await Promise.all(Array.from({ length: Math.min(jobs, cases.length) }, lane));
  const results = [...done.values()];
  const wrong = results.filter(({ rows }) => rows.some(({ problem }) => problem !== null)).length;
  const minutes = (Date.now() - beganMs) / 60_000;
  console.log(
    `\n${String(results.length)} scenarios, ${String(wrong)} with a difference, ${minutes.toFixed(1)} minutes`,
  );
  process.exitCode = wrong > 0 || done.size < cases.length ? 1 : 0;
}

/** A process a scenario: they share nothing, and two run beside each other. */
function inChild(one: ScenarioCase): Promise<CaseResult> {
  const args = [one.scenario, '--child', ...(seed === undefined ? [] : ['--seed', String(seed)])];
  const child = fork(fileURLToPath(import.meta.url), args, { execArgv: process.execArgv });
  return new Promise((resolve, reject) => {
    child.on('message', (result: CaseResult) => {
      print(result);
      resolve(result);
    });
    child.on('error', reject);
    child.on('exit', (code) => {
      reject(new Error(`${one.scenario} ended with code ${String(code)} before it had a result`));
    });
  });
}

function print({ scenario, rows, due, seconds }: CaseResult): void {
  const quiet = { rule: '', expected: 'nothing', raised: 'nothing', delayH: null, problem: null };
  for (const row of rows.length > 0 ? rows : [quiet]) {
    const delay = row.delayH === null ? '' : `${row.delayH.toFixed(1)} h`;
    console.log(line(scenario, row.rule, row.expected, row.raised, delay, row.problem ?? 'ok'));
  }
  console.log(`${' '.repeat(21)}due: ${due.join(', ') || 'nothing'} (${seconds.toFixed(0)} s)`);
}

function line(...cells: readonly string[]): string {
  const widths = [20, 24, 48, 56, 8, 0];
  return cells
    .map((cell, i) => cell.padEnd(widths[i] ?? 0))
    .join(' ')
    .trimEnd();
}

function seeded(one: ScenarioCase): ScenarioCase {
  // Another seed brings the trouble on another day.
  return seed === undefined ? one : { ...one, seed, days: Math.max(one.days, 20) };
}

function whole(name: string, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const number = Number(text);
  if (!Number.isSafeInteger(number) || number < 1) {
    console.error(`--${name} wants a whole number from 1 on, such as 2, and got "${text}"`);
    process.exit(2);
  }
  return number;
}
