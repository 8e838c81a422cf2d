/**
 * What the store takes and how quick it is, beside one plain (channel, time) table in the same run.
 *
 *   npx tsx tests/bench/store.ts --readings 10000000
 *
 * Readings come from the seeded generator; the default is a tenth of the full size, so that it ends within a minute
 * or so. Bytes written are what Linux charges to this process (/proc/self/io), which leaves out the file system's
 * own journal on both sides alike.
 */
import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import Database from 'better-sqlite3';
import { openStore, type Store } from '../../server/store/store.ts';
import type { BenchOptions } from '../../simulator/readings-generator.ts';
import { fillStore, replayReadings } from './store-fill.ts';
import { openOneTable, type OneTable } from './store-one-table.ts';
import { median, printRows, timed, type BenchRow } from './store-table.ts';

const fromMs = Date.UTC(2025, 3, 1);
const far = Date.UTC(2100, 0, 1);
/** With fewer, a season is short, and the day that is still open is most of the file. */
const fullSize = 10_000_000;
const nothing = { quarantined: [], lastKnown: [] };

/** Rows of the bench's table; leaves nothing behind. */
export function storeBench(readings: number): BenchRow[] {
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-bench-'));
  // A hundred hives at full size; fewer for a short run, so that it still has days to seal.
  const hives = Math.max(4, Math.min(100, Math.round(readings / 3000)));
  try {
    return [
      writtenBytes(folder, { seed: 2, hives, fromMs, count: Math.min(readings, 500_000), batch: 100 }),
      ...filled(folder, { seed: 1, hives, fromMs, count: readings, batch: 1000 }),
      newest(folder, 2500),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function writtenSoFar(): number {
  return Number(/^write_bytes: (\d+)$/m.exec(readFileSync('/proc/self/io', 'utf8'))?.[1] ?? NaN);
}

/** Bytes written to disk a reading at group commits of 100. */
function writtenBytes(folder: string, options: BenchOptions): BenchRow {
  const { count } = options;
  const cost = (work: () => void): number => {
    const before = writtenSoFar();
    work();
    return (writtenSoFar() - before) / count;
  };
  const ours = cost(() => {
    const store = openStore({ file: join(folder, 'written.sqlite') });
    fillStore(store, options);
    store.close();
  });
  const plain = cost(() => {
    const table = openOneTable(join(folder, 'written-plain.sqlite'));
    const ids = new Map<string, number>();
    replayReadings(
      options,
      (readings) => {
        table.commit(
          readings.map(({ sensor, quantity, probe, observedAtMs, value }) => {
            const key = `${sensor} ${quantity} ${probe}`;
            const id = ids.get(key) ?? ids.size;
            ids.set(key, id);
            return [id, observedAtMs, Math.round(value * 1e6)];
          }),
        );
      },
      () => undefined,
    );
    table.close();
  });
  return {
    what: `bytes written to disk a reading, group commits of 100, sealing included (${count.toLocaleString('en')})`,
    measured: ours.toFixed(0),
    baseline: `${plain.toFixed(0)} (1/${(plain / ours).toFixed(0)})`,
    goal: '≤ 1/20',
    reached: plain / ours >= 20,
  };
}

/** Size, season and start of a store with all the readings. */
function filled(folder: string, options: BenchOptions): BenchRow[] {
  const file = join(folder, 'filled.sqlite');
  const started = performance.now();
  const store = openStore({ file });
  fillStore(store, options);
  const perSecond = options.count / ((performance.now() - started) / 1000);
  store.close();
  console.log(`filled at ${perSecond.toFixed(0)} readings/s in group commits of 1,000`);
  const opened = openStore({ file });
  const rows = [
    ...sizes(file, options.count, opened.readings.hotCount()),
    season(folder, opened, options.count),
  ];
  opened.close();
  return [...rows, start(file, options.count)];
}

function sizes(file: string, count: number, hot: number): BenchRow[] {
  const db = new Database(file, { readonly: true });
  const pages = new Map(
    db.prepare<[], [string, number]>('SELECT name, sum(pgsize) FROM dbstat GROUP BY name').raw().all() as [
      string,
      number,
    ][],
  );
  db.close();
  const raw = ((pages.get('reading_day') ?? 0) + (pages.get('reading_times') ?? 0)) / (count - hot);
  const everything = statSync(file).size / count;
  const row = (what: string, bytes: number, goal: number, judged = true): BenchRow => ({
    what,
    measured: bytes.toFixed(2),
    baseline: '',
    goal: `≤ ${String(goal)}`,
    reached: judged ? bytes <= goal : 'full size only',
  });
  return [
    row(`bytes a sealed reading on disk, whole pages (${count.toLocaleString('en')})`, raw, 1.5),
    row(
      'bytes a reading, the whole file: roll-ups, open day, free pages',
      everything,
      2.5,
      count >= fullSize,
    ),
  ];
}

/** All readings of one channel, out of both. */
function season(folder: string, store: Store, count: number): BenchRow {
  const channels = store.channels.list().filter((channel) => channel.quantity !== 'battery');
  const table = openOneTable(join(folder, 'season-plain.sqlite'));
  for (const { id } of channels) copySeason(store, table, id);
  const pick = (run: number): number => channels[(run * 37) % channels.length]!.id;
  const points = store.readings.series(pick(0), 0, far).atMs.length;
  // In turns: the machine's own speed changes from minute to minute.
  const once = (work: () => void): number => timed(1, work)[0] ?? NaN;
  const turns = Array.from({ length: 60 }, (_, run) => ({
    ours: once(() => store.readings.series(pick(run), 0, far)),
    plain: once(() => table.season(pick(run))),
  }));
  const ours = median(turns.map((turn) => turn.ours));
  const plain = median(turns.map((turn) => turn.plain));
  table.close();
  return {
    what: `season of one channel, ${points.toLocaleString('en')} points, ms`,
    measured: ours.toFixed(2),
    baseline: `${plain.toFixed(2)} (${(plain / ours).toFixed(1)} ×)`,
    goal: '≥ 15 ×',
    reached: count >= fullSize ? plain / ours >= 15 : 'full size only',
  };
}

/** In the table's own order, which is the best that it can be filled. */
function copySeason(store: Store, table: OneTable, id: number): void {
  const { atMs, value } = store.readings.series(id, 0, far);
  table.commit(Array.from(atMs, (at, i) => [id, at, Math.round((value[i] ?? 0) * 1e6)] as const));
}

function start(file: string, count: number): BenchRow {
  const ms = median(
    timed(5, () => {
      openStore({ file }).close();
    }),
  );
  return {
    what: `start of the store to ready with ${count.toLocaleString('en')} readings, ms`,
    measured: ms.toFixed(0),
    baseline: '',
    goal: '≤ 1000',
    reached: ms <= 1000,
  };
}

function newest(folder: string, channels: number): BenchRow {
  const store = openStore({ file: join(folder, 'newest.sqlite') });
  for (let round = 0; round < 20; round += 1) {
    const atMs = fromMs + round * 300_000;
    const readings = Array.from({ length: channels }, (_, i) => ({
      sensor: `s${String(i)}`,
      quantity: 'temperature' as const,
      probe: '',
      unit: 'Cel' as const,
      value: round + i / 100,
      observedAtMs: atMs,
      receivedAtMs: atMs,
    }));
    store.ingest.commit({ readings, ...nothing });
  }
  const ms = median(timed(50, () => store.channels.list()));
  store.close();
  return {
    what: `newest reading of ${channels.toLocaleString('en')} channels, ms`,
    measured: ms.toFixed(2),
    baseline: '',
    goal: '≤ 5',
    reached: ms <= 5,
  };
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const at = process.argv.indexOf('--readings');
  const rows = storeBench(at < 0 ? 1_000_000 : Number(process.argv[at + 1]));
  printRows(rows);
  if (rows.some((row) => !row.reached)) process.exitCode = 1;
}
