/** What a season leaves behind, as rows beside their goals: memory, readings, backups. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { listBackups } from '../../server/store/backup/backup.ts';
import { databaseName } from '../../server/store/file/data-folder.ts';
import { restore } from '../../server/store/backup/restore.ts';
import { openStore } from '../../server/store/store.ts';
import type { Acknowledged } from './acknowledged.ts';

export interface SeasonRow {
  readonly what: string;
  readonly found: string;
  readonly goal: string;
  readonly ok: boolean;
}

export interface DayOfMemory {
  readonly residentMb: number;
  readonly leastHeapMb: number;
}

/** Growth over the second half of the season, to what stood at its beginning, by a straight line through its days. */
const mostGrowth = 0.1;
/** In a shorter season the second half still fills what a month of introductions holds. */
const leastDays = 60;

export function newestReadingMs(file: string): number {
  const store = openStore({ file, readonly: true });
  try {
    return Math.max(...store.channels.list().map(({ latest }) => latest?.atMs ?? 0));
  } finally {
    store.close();
  }
}

export function tellMemory(days: readonly DayOfMemory[]): SeasonRow[] {
  const half = days.slice(Math.floor(days.length / 2));
  const row = (what: string, values: readonly number[]): SeasonRow => {
    const { from, to } = lineThrough(values);
    const found = `${from.toFixed(0)} → ${to.toFixed(0)} MB, highest ${Math.max(...values).toFixed(0)}`;
    const goal = `+ ≤ ${String(100 * mostGrowth)} %`;
    return days.length < leastDays
      ? { what, found, goal: `${goal}, judged from ${String(leastDays)} days on`, ok: true }
      : { what, found, goal, ok: to - from <= mostGrowth * from };
  };
  return [
    row(
      'resident memory, second half',
      half.map(({ residentMb }) => residentMb),
    ),
    row(
      'heap at its least each day, second half',
      half.map(({ leastHeapMb }) => leastHeapMb),
    ),
  ];
}

/** The least squares line at the first and at the last of them. */
export function lineThrough(values: readonly number[]): { from: number; to: number } {
  const middle = (values.length - 1) / 2;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const across = values.reduce((sum, value, i) => sum + (i - middle) * (value - mean), 0);
  const slope =
    across /
    Math.max(
      1,
      values.reduce((sum, _value, i) => sum + (i - middle) ** 2, 0),
    );
  return { from: mean - slope * middle, to: mean + slope * middle };
}

type Logged = ReadonlyMap<string, number>;

export function tellReadings(file: string, acknowledged: Acknowledged, logged: Logged): SeasonRow[] {
  const { lost, wrong } = acknowledged.check(file);
  const { count, givenUp } = acknowledged;
  const missing = entriesMissing(file, [...logged.keys()]);
  return [
    { what: 'readings acknowledged', found: String(count), goal: '> 0', ok: count > 0 },
    {
      what: 'of these after the backup that was brought back',
      found: String(givenUp),
      goal: 'given up by whoever restores',
      ok: true,
    },
    { what: 'acknowledged and lost', found: String(lost), goal: '0', ok: lost === 0 },
    { what: 'stored with another value', found: String(wrong), goal: '0', ok: wrong === 0 },
    {
      what: 'entries of the field log stored and lost',
      found: `${String(missing)} of ${String(logged.size)}`,
      goal: '0',
      ok: missing === 0,
    },
  ];
}

function entriesMissing(file: string, ids: readonly string[]): number {
  const store = openStore({ file, readonly: true });
  try {
    return ids.filter((id) => store.introductions.entry(id) === undefined).length;
  } finally {
    store.close();
  }
}

/** Each is brought back into a folder of its own; the newest has all that was acknowledged before it was made. */
export function tellBackups(
  folder: string,
  startMs: number,
  acknowledged: Acknowledged,
  logged: Logged,
): SeasonRow[] {
  const files = listBackups(folder);
  let good = 0;
  let newest = 'none';
  let whole = false;
  for (const [i, backup] of files.entries()) {
    const into = mkdtempSync(join(tmpdir(), 'welcomb-restored-'));
    const file = join(into, databaseName);
    try {
      restore(backup, file);
      const madeMs = newestReadingMs(file);
      // The very first is made before the first reading.
      if (madeMs > startMs || backup === files.at(-1)) good += 1;
      if (i > 0) continue;
      const { lost, wrong } = acknowledged.check(file, madeMs);
      const before = [...logged].filter(([, atMs]) => atMs <= madeMs).map(([id]) => id);
      const missing = entriesMissing(file, before);
      newest = `${String(lost)} readings and ${String(missing)} entries missing, ${String(wrong)} wrong`;
      whole = lost + wrong + missing === 0;
    } finally {
      rmSync(into, { recursive: true, force: true });
    }
  }
  const ok = files.length > 0 && good === files.length;
  return [
    {
      what: 'backups that can be brought back',
      found: `${String(good)} of ${String(files.length)}`,
      goal: 'all',
      ok,
    },
    {
      what: 'the newest backup beside what was acknowledged before it',
      found: newest,
      goal: 'nothing missing',
      ok: whole,
    },
  ];
}
