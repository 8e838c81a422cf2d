/**
 * What one minute of the watch costs (new readings worked out, every rule run) with three years of readings in the
 * store, beside the same with one week. Time of this process alone. `npm run bench:tick [-- nucs [days]]`.
 */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createEventsHub } from '../../server/views/events-hub.ts';
import { createFarm } from '../../server/service/farm-service.ts';
import { openStore } from '../../server/store/store.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { makeLiveFarm, readingsOf } from './live-farm.ts';
import { median, printRows, type BenchRow } from './store-table.ts';

const minuteMs = 60_000;
const startMs = Date.UTC(2026, 5, 1, 8);
const week = 7;
const goal = 1.25;
const minutes = 60;

/** Milliseconds of this process for one minute, in the median. */
function minuteCostMs(nucs: number, days: number): number {
  const folder = newFolder();
  makeLiveFarm(folder, nucs, startMs, days);
  let nowMs = startMs;
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs });
  const events = createEventsHub();
  const onError = (error: unknown): void => {
    throw error;
  };
  const farm = createFarm({ store, events, clock: () => nowMs, startedAtMs: nowMs, onError });
  const costs: number[] = [];
  try {
    for (let minute = 1; minute <= minutes; minute += 1) {
      nowMs = startMs + minute * minuteMs;
      const readings = Array.from({ length: nucs }, (_, nuc) => readingsOf(nuc, nowMs)).flat();
      const result = store.ingest.commit({ readings, quarantined: [], lastKnown: [] });
      const before = process.cpuUsage();
      farm.watch.readingsCame(result, nowMs);
      while (farm.watch.work(nowMs));
      farm.watch.tick(nowMs);
      const { user, system } = process.cpuUsage(before);
      costs.push((user + system) / 1000);
    }
  } finally {
    farm.stop();
    events.close();
    store.close();
    dropFolder(folder);
  }
  // The first minutes also read everything once and compile the code.
  return median(costs.slice(10));
}

export function tickFlatBench(nucs: number, days: number): BenchRow[] {
  // Once for the compiler.
  minuteCostMs(1, week);
  const short = minuteCostMs(nucs, week);
  const long = minuteCostMs(nucs, days);
  const ratio = long / short;
  return [
    {
      what: `a minute of the watch, ${String(nucs)} nucs, ${String(days)} days of history, ms`,
      measured: `${long.toFixed(1)} (× ${ratio.toFixed(2)})`,
      baseline: `a week of history ${short.toFixed(1)}`,
      goal: `× ≤ ${String(goal)}`,
      reached: ratio <= goal,
    },
  ];
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  printRows(tickFlatBench(Number(process.argv[2] ?? 3), Number(process.argv[3] ?? 3 * 365)));
}
