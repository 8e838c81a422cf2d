/**
 * Every bench as one table: what, measured, its baseline in the same run, the goal, and whether it is reached.
 * Ends non-zero where a goal is missed.
 *
 *   npm run bench               small sizes, some minutes
 *   npm run bench -- --full     the sizes that the goals are set for
 *
 * Small sizes show that nothing has become worse by a large factor; rows whose goal holds at full size only are not judged there.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { mosquitto } from '../support/programs.ts';
import { alertDelayBench } from './alert-delay.ts';
import { chartHttpBench } from './chart-http.ts';
import { idleBench } from './idle.ts';
import { replayBench } from './replay.ts';
import { rulesBench } from './rules.ts';
import { startBench } from './start.ts';
import { printRows, type BenchRow } from './store-table.ts';
import { storeBench } from './store.ts';
import { tickFlatBench } from './tick-flat.ts';

const full = process.argv.includes('--full');
const readings = full ? 10_000_000 : 300_000;

if (!existsSync(join(import.meta.dirname, '../../dist/server/main.js'))) {
  console.error(
    'The benches of start, memory and alert delay need the built server: run "npm run build" first.',
  );
  process.exit(2);
}

function rulesRows(): BenchRow[] {
  return rulesBench().map(({ farm, medianMs, worstMs, ratio }) => ({
    what: `all rules for 500 nucs, one tick, ${farm}, ms`,
    measured: `${medianMs.toFixed(0)} (worst ${worstMs.toFixed(0)})`,
    baseline: `one rule alone (× ${ratio.toFixed(1)})`,
    goal: '≤ 200',
    reached: medianMs <= 200,
  }));
}

/** Goals as ratios to a broker and a subscriber that stores nothing, by publishers and kind. */
const ingestGoals: readonly (readonly [string, 'embedded' | 'outside', number])[] = [
  ['1 mqttjs', 'embedded', 0.8],
  ['10 mqttjs', 'embedded', 1.2],
  ['10 mqttjs', 'outside', 0.8],
  ['100 raw', 'embedded', 1.2],
];

/** Its own program, because brokers and publishers of one process would share its one core. */
function ingestRows(): BenchRow[] {
  if (mosquitto === undefined) {
    console.warn('Left out: the ingest bench needs Mosquitto for its baseline.');
    return [];
  }
  const { stdout, status } = spawnSync(
    process.execPath,
    ['--import', 'tsx', join(import.meta.dirname, 'ingest.ts'), full ? '1' : '0.1', full ? '3' : '1'],
    { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] },
  );
  // 1: a goal of its own is missed, which the rows below say.
  if (status !== 0 && status !== 1) throw new Error('the ingest bench failed');
  return ingestGoals.map(([publishers, way, goal]) => {
    const line = new RegExp(`^${publishers}: a (\\S+) .*${way} (\\S+) \\((\\S+) × a`, 'm').exec(stdout);
    const ratio = Number(line?.[3]);
    return {
      what: `readings/s to durable commit, ${way}, ${publishers}`,
      measured: line?.[2] ?? 'nothing',
      baseline: `${line?.[1] ?? '?'} stored nowhere (× ${String(ratio)})`,
      goal: `× ≥ ${String(goal)}`,
      reached: ratio >= goal,
    };
  });
}

/** In this order. */
const benches: readonly (readonly [name: string, work: () => BenchRow[] | Promise<BenchRow[]>])[] = [
  ['store', () => storeBench(readings)],
  ['start', () => startBench(readings)],
  ['chart', () => chartHttpBench(180)],
  ['idle', () => idleBench(full ? [50, 500] : [50], full ? 5 : 2)],
  ['rules', rulesRows],
  ['tick', () => tickFlatBench(full ? 5 : 1, 3 * 365)],
  ['alert delay', () => alertDelayBench(full ? 500 : 20, full ? 100 : 20)],
  ['ingest', ingestRows],
  ['replay', () => replayBench(full ? 30 : 4)],
];

/** A bench that fails is a row as well, and the others go on. */
async function rowsOf(name: string, work: () => BenchRow[] | Promise<BenchRow[]>): Promise<BenchRow[]> {
  try {
    return await work();
  } catch (error) {
    return [{ what: name, measured: `failed: ${String(error)}`, baseline: '', goal: 'ends', reached: false }];
  }
}

const rows: BenchRow[] = [];
for (const [name, work] of benches) {
  const found = await rowsOf(name, work);
  // At once: a run that is ended early has said what it found.
  printRows(found);
  rows.push(...found);
}
printRows(rows);
const missed = rows.filter(({ reached }) => !reached);
for (const { what, measured, goal } of missed) console.error(`Missed: ${what} is ${measured}, goal ${goal}.`);
process.exitCode = missed.length > 0 ? 1 : 0;
