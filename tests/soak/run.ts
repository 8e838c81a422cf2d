/**
 * `npm run soak [-- kills [seed]]`: the long run, with both ways in. Exits non-zero where a reading was lost.
 * `npm run soak -- flood [hours]`: a flood on the embedded broker. Exits non-zero where memory grows.
 * `npm run soak -- season [days [nucs at a time [seed]]]`: a season in compressed time, as a table. Exits non-zero where a goal is
 * missed. 120 days of 15 nucs at a time are some 50 introductions, and take half an hour of a busy machine.
 * `npm run soak -- hours [hours [nucs [days]]]`: hours of a farm with so many days of history in compressed time, and the
 * memory after each. Exits non-zero where the heap grows.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { mosquitto } from '../support/programs.ts';
import { flood, mostGrowth } from './flood.ts';
import { season } from './season.ts';
import { growthOf, hoursOn, mostGrowth as mostHeapGrowth } from './hours.ts';
import { soak } from './soak.ts';

async function inFolder<T>(run: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-soak-'));
  try {
    return await run(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function withKills(kills: number, seed: number): Promise<boolean> {
  let failed = false;
  for (const way of ['embedded', 'mosquitto'] as const) {
    if (way === 'mosquitto' && mosquitto === undefined) {
      console.log('mosquitto is not installed: that half was not run');
      continue;
    }
    const brokerRestarts = way === 'mosquitto' ? 5 : 0;
    const result = await inFolder((folder) =>
      soak({ way, kills, brokerRestarts, seed, folder, onProgress: console.log }),
    );
    console.log(JSON.stringify({ way, ...result }));
    failed ||= result.lost > 0 || result.wrong > 0 || result.conflicts > 0 || result.acknowledged === 0;
  }
  return failed;
}

async function withFlood(hours: number): Promise<boolean> {
  const result = await inFolder((folder) => flood(folder, hours, console.log));
  console.log(JSON.stringify(result));
  return result.growth > mostGrowth;
}

async function withSeason(days: number, nucs: number, seed: number): Promise<boolean> {
  const rows = await season({ days, nucs, everyMinutes: 5, seed, onProgress: console.log });
  console.table(rows);
  return rows.some(({ ok }) => !ok);
}

async function withHours(hours: number, nucs: number, days: number): Promise<boolean> {
  const found = await inFolder((folder) => hoursOn({ folder, nucs, days, hours }));
  console.table(found);
  const growth = growthOf(found);
  console.log(
    `from the second hour on, by a line: ${(100 * growth).toFixed(1)} % (goal ≤ ${String(100 * mostHeapGrowth)} %)`,
  );
  return !(growth <= mostHeapGrowth);
}

async function failed(): Promise<boolean> {
  const [first, second, third, fourth] = process.argv.slice(2);
  if (first === 'flood') return withFlood(Number(second ?? 8));
  if (first === 'season') return withSeason(Number(second ?? 120), Number(third ?? 50), Number(fourth ?? 50));
  if (first === 'hours')
    return withHours(Number(second ?? 8), Number(third ?? 10), Number(fourth ?? 3 * 365));
  return withKills(Number(first ?? 50), Number(second ?? 1));
}

process.exit((await failed()) ? 1 : 0);
