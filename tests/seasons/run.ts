/**
 * The obedient keeper against agent colonies, beside the fixed calendar of common practice:
 * `npm run seasons [-- --count N] [--seed S] [--only START] [--limit PERCENT] [--visits] [--trace N]`. Ends non-zero
 * where a goal is missed. `--limit` is the keeper's chance of a rival above which she is not let out. `--visits` says
 * what the visits were for; `--trace` prints the history of that number as a diary (with `--only`).
 */
import { fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { StartingPoint } from '../../server/introduction/log/facts.ts';
import { wilson } from '../../server/signals/statistics/intervals.ts';
import { toolWith } from './obedient.ts';
import { trace } from './trace.ts';
import { merge, missedGoals, startOf, starts, tally, type Tally } from './tally.ts';

interface Part {
  readonly startingPoint: StartingPoint;
  readonly count: number;
  readonly seed: number;
  readonly limit?: number;
}

const inProcess = (part: Part): Promise<Tally> =>
  new Promise((resolve, reject) => {
    const child = fork(fileURLToPath(import.meta.url), ['--part', JSON.stringify(part)]);
    child.on('message', (message) => {
      resolve(message as Tally);
    });
    child.on('error', reject);
    child.on('exit', (code) => {
      if (code !== 0) reject(new Error(`a part of the seasons ended with ${String(code)}`));
    });
  });

async function inTwo({ count, seed, ...part }: Part): Promise<Tally> {
  const half = Math.floor(count / 2);
  const [a, b] = await Promise.all([
    inProcess({ ...part, count: count - half, seed }),
    inProcess({ ...part, count: half, seed: seed + count - half }),
  ]);
  return merge(a, b);
}

const percent = (part: number): string => (100 * part).toFixed(1);

/** With Wilson's interval, 95 %. */
function share(part: number, of: number): string {
  if (of === 0) return '–';
  const { low, high } = wilson(part, of);
  return `${percent(part / of)} % (${percent(low)}-${percent(high)})`;
}

/** With 1.96 standard errors. */
function meanMore({ count, moreVisits, moreVisitsSquared }: Tally): string {
  const at = moreVisits / count;
  const error = Math.sqrt((moreVisitsSquared / count - at ** 2) / count);
  return `${at.toFixed(2)} ± ${(1.96 * error).toFixed(2)}`;
}

const mean = (sum: number, of: number): string => (of === 0 ? '–' : (sum / of).toFixed(2));

/** Visits a hundred introductions, by what was done on that day. */
function printDays({ obedient, calendar, count }: Tally): void {
  const of = (side: Record<string, number>, what: string): number => (100 * (side[what] ?? 0)) / count;
  const rows = [...new Set([...Object.keys(obedient.days), ...Object.keys(calendar.days)])]
    .map((what) => ({ what, mine: of(obedient.days, what), theirs: of(calendar.days, what) }))
    .filter(({ mine, theirs }) => Math.max(mine, theirs) >= 1)
    .toSorted((a, b) => b.mine - b.theirs - (a.mine - a.theirs));
  console.log('  visits a hundred introductions, by what was done:');
  for (const { what, mine, theirs } of rows)
    console.log(
      `    ${(what || 'nothing').padEnd(44)} ${mine.toFixed(0).padStart(6)} ${theirs.toFixed(0).padStart(6)} ${(mine - theirs).toFixed(0).padStart(6)}`,
    );
}

function print(t: Tally): void {
  const { obedient: o, calendar: c } = t;
  console.log(`\n${t.startingPoint}: ${String(t.count)} introductions`);
  const rows: readonly (readonly [string, string, string])[] = [
    ['', 'obedient', 'calendar'],
    ['dead ends', share(t.deadEnds, t.count), ''],
    ['acts against a gate (introductions)', share(t.against, t.count), ''],
    ['let out', share(o.opened, t.count), share(c.opened, t.count)],
    ['rival met after release', share(o.rivalMet, o.opened), share(c.rivalMet, c.opened)],
    [
      `chance of a rival, stated (of ${String(t.chance.count)})`,
      t.chance.count === 0 ? '–' : `${percent(t.chance.stated / t.chance.count)} %`,
      '',
    ],
    ['chance of a rival, came', share(t.chance.came, t.chance.count), ''],
    [`clean ones opened by day 10 (of ${String(t.clean)})`, share(t.cleanByDay10, t.clean), ''],
    ['visits', mean(o.visits, t.count), mean(c.visits, t.count)],
    ['visits more than by the calendar', meanMore(t), ''],
    ['lost to what the log could have shown', share(o.couldBeKnown, t.count), share(c.couldBeKnown, t.count)],
    ['her eggs: share', share(o.laid, t.count), share(c.laid, t.count)],
    ['her eggs: day', mean(o.eggsOnDay, o.laid), mean(c.eggsOnDay, c.laid)],
  ];
  for (const [what, obedient, calendar] of rows)
    console.log(`  ${what.padEnd(42)} ${obedient.padStart(18)} ${calendar.padStart(18)}`);
  for (const to of [...new Set([...Object.keys(o.lost), ...Object.keys(c.lost)])].sort())
    console.log(
      `    lost: ${to.padEnd(34)} ${share(o.lost[to] ?? 0, t.count).padStart(18)} ${share(c.lost[to] ?? 0, t.count).padStart(18)}`,
    );
  if (values.visits) printDays(t);
  for (const { goal, reached } of missedGoals(t)) console.log(`  MISSED: ${goal}: ${reached}`);
  for (const [what, seeds] of Object.entries(t.seeds)) console.log(`    ${what}: --trace ${seeds.join(' ')}`);
}

const { values } = parseArgs({
  options: {
    part: { type: 'string' },
    only: { type: 'string' },
    count: { type: 'string', default: '20000' },
    seed: { type: 'string', default: '1' },
    limit: { type: 'string' },
    trace: { type: 'string' },
    visits: { type: 'boolean', default: false },
  },
});

const usage = (text: string): never => {
  console.error(
    `${text}\nUsage: npm run seasons [-- --count N] [--seed S] [--only ${starts.join('|')}] [--limit PERCENT] [--visits] [--trace N]`,
  );
  process.exit(2);
};

function whole(name: 'count' | 'seed' | 'limit' | 'trace', least: number): number {
  const number = Number(values[name]);
  return Number.isInteger(number) && number >= least
    ? number
    : usage(`--${name} wants a whole number from ${String(least)} on.`);
}

async function main(): Promise<void> {
  const only = values.only === undefined ? starts : starts.filter((start) => start === values.only);
  const [first] = only;
  if (first === undefined) return usage(`There is no start “${values.only ?? ''}”.`);
  if (values.trace !== undefined) {
    console.log(trace(whole('trace', 0), startOf(first, whole('trace', 0))));
    return;
  }
  const startedMs = performance.now();
  const [count, seed] = [whole('count', 2), whole('seed', 0)];
  const limit = values.limit === undefined ? {} : { limit: whole('limit', 1) / 100 };
  let missed = 0;
  for (const startingPoint of only) {
    const t = await inTwo({ startingPoint, count, seed, ...limit });
    print(t);
    missed += missedGoals(t).length;
  }
  console.log(
    `\n${String(missed)} goals missed. ${((performance.now() - startedMs) / 1000).toFixed(0)} s, seed ${String(seed)}`,
  );
  process.exitCode = missed === 0 ? 0 : 1;
}

if (values.part !== undefined) {
  const { startingPoint, count, seed, limit } = JSON.parse(values.part) as Part;
  const part = tally(startingPoint, count, seed, toolWith(limit));
  process.send?.(part);
} else await main();
