/** Which files are opened, which are refused and left as they are, and how an older one is upgraded. */
import { createHash } from 'node:crypto';
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { migrations, type Migration } from '../../server/store/migrate.ts';
import { openDatabase } from '../../server/store/file/open-database.ts';
import { openStore, StoreRefused } from '../../server/store/store.ts';
import { commit, may1, minute, reading } from './support/made-up.ts';
import { temporaryFolder } from './support/temporary-store.ts';

const hashOf = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex');

/** A closed store with some thousand readings. */
function filledFile(): string {
  const file = join(temporaryFolder(), 'welcomb.sqlite');
  const store = openStore({ file, nowMs: () => may1 });
  for (let i = 0; i < 100; i += 1) {
    commit(
      store,
      ...Array.from({ length: 40 }, (_, j) =>
        reading(may1 + (i * 40 + j) * minute, j, { sensor: `n${String(i % 7)}` }),
      ),
    );
  }
  store.readings.seal({ endedBeforeMs: may1 + 400 * 86_400_000 });
  store.close();
  return file;
}

function refusalOf(file: string, options: { readonly?: boolean } = {}): string {
  const before = existsSync(file) ? hashOf(file) : undefined;
  const around = readdirSync(dirname(file));
  let message = '';
  try {
    openStore({ file, ...options }).close();
  } catch (error) {
    if (!(error instanceof StoreRefused)) throw error;
    message = error.message;
  }
  expect(existsSync(file) ? hashOf(file) : undefined).toBe(before);
  expect(readdirSync(dirname(file))).toEqual(around);
  return message;
}

describe('refused and left as it is', () => {
  test('a file that is no database', () => {
    const file = join(temporaryFolder(), 'welcomb.sqlite');
    writeFileSync(file, 'a list of queens\n'.repeat(100));
    expect(refusalOf(file)).toMatch(/is not a database, or its beginning is damaged/);
  });

  test('the database of another program', () => {
    const file = join(temporaryFolder(), 'welcomb.sqlite');
    const db = new Database(file);
    db.exec('CREATE TABLE honey (jars INTEGER)');
    db.close();
    expect(refusalOf(file)).toMatch(/is a database of another program/);
  });

  test('a database of a newer version', () => {
    const file = filledFile();
    const db = new Database(file);
    db.pragma('user_version = 99');
    db.pragma('journal_mode = DELETE');
    db.close();
    expect(refusalOf(file)).toMatch(/newer version of this program \(schema 99, known up to \d+\)/);
  });

  test('a damaged page', () => {
    const file = filledFile();
    const db = new Database(file);
    db.pragma('journal_mode = DELETE');
    db.close();
    const bytes = readFileSync(file);
    bytes.fill(0xa5, 4096 * 3, 4096 * 12);
    writeFileSync(file, bytes);
    expect(refusalOf(file)).toMatch(/is damaged \(.+\): restore the newest backup/);
  });

  test('a file that is cut off', () => {
    const file = filledFile();
    writeFileSync(file, readFileSync(file).subarray(0, 60));
    expect(refusalOf(file)).toMatch(/is not a database, or its beginning is damaged/);
  });

  test('no file where only a look was asked for', () => {
    const file = join(temporaryFolder(), 'welcomb.sqlite');
    expect(refusalOf(file, { readonly: true })).toMatch(/There is no database at/);
  });
});

describe('migrations', () => {
  const next: Migration = {
    version: (migrations.at(-1)?.version ?? 0) + 1,
    note: 'Sites can have a colour.',
    sql: 'ALTER TABLE site ADD COLUMN colour TEXT',
  };

  test('are numbered from 1 without a gap', () => {
    expect(migrations.map(({ version }) => version)).toEqual(migrations.map((_, i) => i + 1));
  });

  test('copy the database first, keep everything, and tell the owner', () => {
    const file = filledFile();
    const { db, migrated } = openDatabase(file, false, [...migrations, next]);
    expect(db.pragma('user_version', { simple: true })).toBe(next.version);
    expect(db.prepare('SELECT sum(readings) FROM latest').pluck().get()).toBe(4000);
    db.close();
    expect(migrated.notes).toEqual([next.note]);
    const copy = openStore({ file: migrated.backupFile!, readonly: true });
    expect(copy.channels.list()).toHaveLength(7);
    copy.close();
  });

  test('that fail leave the database as it was, still usable', () => {
    const file = filledFile();
    const broken = {
      ...next,
      sql: `${next.sql}; CREATE TABLE half (done INTEGER); SELECT nonsense FROM nowhere;`,
    };
    expect(() => openDatabase(file, false, [...migrations, broken])).toThrow(/nowhere/);
    const store = openStore({ file });
    expect(store.channels.list()).toHaveLength(7);
    store.close();
    const db = new Database(file, { readonly: true });
    expect(db.prepare("SELECT name FROM sqlite_schema WHERE name = 'half'").all()).toEqual([]);
    db.close();
  });
});

describe('every released schema', () => {
  const folder = fileURLToPath(new URL('fixtures', import.meta.url));

  test.each(migrations.map(({ version }) => version))('a full database of schema %i opens', (version) => {
    const file = join(temporaryFolder(), 'welcomb.sqlite');
    writeFileSync(file, readFileSync(join(folder, `schema-${String(version)}.sqlite`)));
    const store = openStore({ file });
    const rows = {
      channels: store.channels.list().length,
      readings: store.channels.list().reduce((sum, channel) => sum + channel.readings, 0),
      sites: store.places.listSites().length,
      hives: store.places.listHives().length,
      assignments: store.places.listAssignments().length,
      introductions: store.introductions.list().length,
      log: store.introductions.allEntries().length,
      alerts: store.alerts.list().length,
      people: store.people.list().length,
    };
    store.close();
    expect(rows).toMatchObject({ channels: 6, readings: 6000, sites: 1, hives: 3, assignments: 3 });
    expect(rows).toMatchObject({ introductions: 2, log: 3, alerts: 1, people: 1 });
  });
});

test('every commit is synced to the disk', (context) => {
  // The pragma alone proves nothing: it reads FULL also where the compiled-in default for this mode is NORMAL.
  if (spawnSync('strace', ['-V']).status !== 0) return context.skip('strace is not installed');
  const program = fileURLToPath(new URL('support/commit-often.ts', import.meta.url));
  const commits = 60;
  const counted = spawnSync(
    'strace',
    [
      '-f',
      '-c',
      '-e',
      'trace=fsync,fdatasync',
      process.execPath,
      '--import',
      'tsx',
      program,
      join(temporaryFolder(), 'w.sqlite'),
      String(commits),
    ],
    { encoding: 'utf8' },
  );
  const syncs = [...counted.stderr.matchAll(/^\s*[\d.]+\s+[\d.]+\s+\d+\s+(\d+)\s.*f(?:data)?sync$/gm)]
    .map(([, calls]) => Number(calls))
    .reduce((sum, calls) => sum + calls, 0);
  expect(syncs).toBeGreaterThanOrEqual(commits);
}, 60_000);
