/**
 * A month of simulated nucs in the store, replayed nuc by nuc: seconds of this process for 30 nuc-months, beside one
 * analysis from scratch at the end of each month, which any replay needs at least once a nuc. Time of the process alone,
 * which a busy machine changes least. `npm run bench:replay [-- nucs]`.
 */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { AlertBook } from '../../server/overview/alert-book.ts';
import { nucContext } from '../../server/overview/nuc-context.ts';
import { pastNuc } from '../../server/overview/past-nuc.ts';
import { replayNuc } from '../../server/overview/replay-nuc.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { storeSimulated, type SimulatedHistory } from '../support/simulated-history.ts';
import { printRows, type BenchRow } from './store-table.ts';

const farm = 30;
const goalS = 10;
const days = 30;

const iso = (atMs: number): string => new Date(atMs).toISOString();

function cpuMs(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

function fromScratch(store: Store, { nucId, splitMs, endMs }: SimulatedHistory): void {
  const nuc = store.places.hive(nucId);
  if (!nuc) throw new Error(`${nucId} is not in the store`);
  pastNuc(store, nucContext(store, nuc), {
    fromMs: splitMs,
    toMs: endMs,
    choices: { chanceLimit: 0.05, unavailableDates: [], units: { temperature: 'C', weight: 'kg' } },
    forecastAt: () => undefined,
  }).analysisAt(endMs);
}

export function replayBench(nucs: number): BenchRow[] {
  const folder = newFolder();
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => Date.now() });
  try {
    let replayed = 0;
    let scratch = 0;
    let looks = 0;
    for (let k = 0; k <= nucs; k += 1) {
      const options = { seed: 100 + k, days, everyMinutes: 5, splitMs: Date.UTC(2026, 4, 12, 8) };
      const history = storeSimulated(store, `nuc-${String(k)}`, options);
      const span = { from: iso(history.splitMs), to: iso(history.endMs) };
      const book = new AlertBook(store);
      const scratchMs = cpuMs(() => {
        fromScratch(store, history);
      });
      const replayMs = cpuMs(() => {
        const answer = replayNuc({ store, book }, { nucId: history.nucId, ...span, limits: {} });
        if (k > 0) looks += answer?.ticks ?? 0;
      });
      // The first one also compiles the code.
      if (k === 0) continue;
      scratch += scratchMs;
      replayed += replayMs;
    }
    const seconds = (replayed / nucs / 1000) * farm;
    const perMonth = `${String(Math.round(looks / nucs))} looks a nuc-month`;
    return [
      {
        what: `a month of ${String(farm)} nucs replayed (${String(nucs)} measured), s`,
        measured: `${seconds.toFixed(1)} (${perMonth})`,
        baseline: `one analysis of each from scratch (× ${(replayed / scratch).toFixed(0)})`,
        goal: `≤ ${String(goalS)}`,
        reached: seconds <= goalS,
      },
    ];
  } finally {
    store.close();
    dropFolder(folder);
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  printRows(replayBench(Number(process.argv[2] ?? 3)));
}
