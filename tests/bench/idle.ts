/**
 * Memory of the built server while nucs are live and nobody has a page open, beside the same packages doing nothing.
 *
 *   npm run bench:idle -- --nucs 50,500 --minutes 3
 *
 * Each nuc has weight, brood, cage and battery, ten days of history and an introduction; every minute each sensor
 * speaks once over MQTT, and the rules look. The figure is the largest resident set of the last minute (Linux).
 */
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { connectAsync } from 'mqtt';
import { dropFolder, newFolder, startServer } from '../support/server-process.ts';
import { makeLiveFarm, readingsOf } from './live-farm.ts';
import { printRows, type BenchRow } from './store-table.ts';

const goalMB = new Map([
  [50, 110],
  [500, 180],
]);
const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Resident memory in MB. */
function residentMB(pid: number): number {
  const status = readFileSync(`/proc/${String(pid)}/status`, 'utf8');
  return (Number(/^VmRSS:\s+(\d+) kB$/m.exec(status)?.[1]) * 1024) / 1e6;
}

async function bareMB(): Promise<number> {
  const child = spawn(process.execPath, [join(import.meta.dirname, 'bare-server.js')], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await new Promise((resolve) => child.stdout.once('data', resolve));
  await wait(3000);
  const found = residentMB(child.pid ?? 0);
  child.kill('SIGKILL');
  return found;
}

async function liveMB(nucs: number, minutes: number): Promise<number> {
  const folder = newFolder();
  makeLiveFarm(folder, nucs, Date.now());
  // As the unit and the container file start it.
  const server = await startServer({ data: folder, env: { MALLOC_ARENA_MAX: '1' } });
  const device = await connectAsync(server.mqtt);
  try {
    let highest = 0;
    for (let minute = 0; minute < minutes; minute += 1) {
      const atMs = Date.now();
      for (let nuc = 0; nuc < nucs; nuc += 1) {
        const sent = readingsOf(nuc, atMs).map(({ sensor, quantity, probe, unit, value }) =>
          device.publishAsync(
            ['welcomb', sensor, quantity, ...(probe === '' ? [] : [probe])].join('/'),
            JSON.stringify({ value, unit, time: new Date(atMs).toISOString() }),
            { qos: 1 },
          ),
        );
        await Promise.all(sent);
      }
      highest = 0;
      while (Date.now() < atMs + 60_000) {
        highest = Math.max(highest, residentMB(server.process.pid ?? 0));
        await wait(500);
      }
    }
    return highest;
  } finally {
    await device.endAsync(true);
    await server.stop();
    dropFolder(folder);
  }
}

export async function idleBench(sizes: readonly number[], minutes: number): Promise<BenchRow[]> {
  const bare = await bareMB();
  const rows: BenchRow[] = [];
  for (const nucs of sizes) {
    const found = await liveMB(nucs, minutes);
    const goal = goalMB.get(nucs);
    rows.push({
      what: `memory with ${String(nucs)} nucs live, MB`,
      measured: found.toFixed(0),
      baseline: `${bare.toFixed(0)} packages alone (× ${(found / bare).toFixed(1)})`,
      goal: goal === undefined ? '' : `≤ ${String(goal)}`,
      reached: goal === undefined || found <= goal,
    });
  }
  return rows;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const after = (flag: string, standard: string): string => {
    const at = process.argv.indexOf(flag);
    return at < 0 ? standard : (process.argv[at + 1] ?? standard);
  };
  const rows = await idleBench(
    after('--nucs', '50,500').split(',').map(Number),
    Number(after('--minutes', '3')),
  );
  printRows(rows);
  if (rows.some((row) => !row.reached)) process.exitCode = 1;
}
