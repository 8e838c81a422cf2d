/**
 * From the start of the built server to its first good answer, with readings stored, beside an empty database.
 *
 *   npm run bench:start -- --readings 10000000
 */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { openStore } from '../../server/store/store.ts';
import { dropFolder, newFolder, startServer } from '../support/server-process.ts';
import { fillStore } from './store-fill.ts';
import { median, printRows, type BenchRow } from './store-table.ts';

const starts = 5;

async function msToReady(folder: string): Promise<number> {
  const times: number[] = [];
  for (let n = 0; n < starts; n += 1) {
    const began = performance.now();
    const server = await startServer({ data: folder });
    const { ready } = await server.get<{ ready: boolean }>('/api/v1/status');
    if (!ready) throw new Error('the server answered, and was not ready');
    times.push(performance.now() - began);
    await server.stop();
  }
  return median(times);
}

export async function startBench(readings: number): Promise<BenchRow[]> {
  const [full, empty] = [newFolder(), newFolder()];
  try {
    const store = openStore({ file: join(full, 'welcomb.db') });
    const hives = Math.max(4, Math.min(100, Math.round(readings / 3000)));
    fillStore(store, { seed: 1, hives, fromMs: Date.UTC(2025, 3, 1), count: readings, batch: 1000 });
    store.close();
    const [withAll, withNone] = [await msToReady(full), await msToReady(empty)];
    return [
      {
        what: `start to ready with ${readings.toLocaleString('en')} readings, ms`,
        measured: withAll.toFixed(0),
        baseline: `${withNone.toFixed(0)} with none (× ${(withAll / withNone).toFixed(2)})`,
        goal: '≤ 1000',
        reached: withAll <= 1000,
      },
    ];
  } finally {
    dropFolder(full);
    dropFolder(empty);
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const at = process.argv.indexOf('--readings');
  const rows = await startBench(at < 0 ? 10_000_000 : Number(process.argv[at + 1]));
  printRows(rows);
  if (rows.some((row) => !row.reached)) process.exitCode = 1;
}
