/**
 * A month of simulated nucs in the store, replayed by the built command, its start included: seconds on the clock for 30
 * nuc-months, beside one analysis from scratch at the end of each month, which any replay needs at least once a nuc.
 * `npm run bench:replay [-- nucs]`, after `npm run build`.
 */
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import { nucContext } from '../../server/watch/nuc-context.ts';
import { pastNuc } from '../../server/watch/past-nuc.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { welcomb } from '../support/command.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { storeSimulated, type SimulatedHistory } from '../support/simulated-history.ts';
import { printRows, type BenchRow } from './store-table.ts';

const farm = 30;
const goalS = 30;
const days = 30;
/** A keeper's nucs stand at a few places, a quarter of an hour's drive from each other. */
const places = [
  { latDeg: 48.4, lonDeg: 11.2, timeZone: 'Europe/Berlin' },
  { latDeg: 48.5, lonDeg: 11.4, timeZone: 'Europe/Berlin' },
  { latDeg: 48.3, lonDeg: 11.5, timeZone: 'Europe/Berlin' },
] as const;

const iso = (atMs: number): string => new Date(atMs).toISOString();

function fromScratch(store: Store, { nucId, splitMs, endMs }: SimulatedHistory): void {
  const nuc = store.places.hive(nucId);
  if (!nuc) throw new Error(`${nucId} is not in the store`);
  pastNuc(store, nucContext(store, nuc), {
    fromMs: splitMs,
    toMs: endMs,
    choices: { chanceLimit: 0.05, unavailableDates: [], units: { temperature: 'C', weight: 'kg' } },
    forecastAt: () => undefined,
  })(endMs);
}

export async function replayBench(nucs: number): Promise<BenchRow[]> {
  const folder = newFolder();
  const file = join(folder, 'welcomb.db');
  const store = openStore({ file, nowMs: () => Date.now() });
  try {
    const histories = Array.from({ length: nucs }, (_, k) => {
      const place = places[k % places.length] ?? places[0];
      const options = { seed: 100 + k, days, everyMinutes: 5, splitMs: Date.UTC(2026, 4, 12, 8), place };
      const history = storeSimulated(store, `nuc-${String(k)}`, options);
      const nuc = store.places.hive(history.nucId);
      // One batch: each is compared with all others.
      if (nuc) store.places.putHive({ ...nuc, batch: 'May' });
      return history;
    });
    const scratchFromMs = performance.now();
    for (const history of histories) fromScratch(store, history);
    const scratchMs = performance.now() - scratchFromMs;
    const from = Math.min(...histories.map(({ splitMs }) => splitMs));
    const to = Math.max(...histories.map(({ endMs }) => endMs));
    const fromMs = performance.now();
    const ended = await welcomb(['replay', '--json', '--data', folder, '--from', iso(from), '--to', iso(to)]);
    const replayMs = performance.now() - fromMs;
    if (ended.code !== 0) throw new Error(`welcomb replay ended with ${String(ended.code)}: ${ended.err}`);
    const answers = ended.out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as { ticks: number });
    const looks = answers.reduce((sum, { ticks }) => sum + ticks, 0);
    const seconds = (replayMs / nucs / 1000) * farm;
    const perMonth = `${String(Math.round(looks / nucs))} looks a nuc-month`;
    return [
      {
        what: `a month of ${String(farm)} nucs replayed (${String(nucs)} measured), s`,
        measured: `${seconds.toFixed(1)} (${perMonth})`,
        baseline: `one analysis of each from scratch (× ${(replayMs / scratchMs).toFixed(0)})`,
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
  printRows(await replayBench(Number(process.argv[2] ?? farm)));
}
