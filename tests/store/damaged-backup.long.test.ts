/** A backup that was changed since it was made is refused, or reads back the same; one of a foreign schema is refused. */
import { copyFileSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { check } from '../../server/store/backup/check-database.ts';
import { checkReadings } from '../../server/store/readings/check-readings.ts';
import { restore } from '../../server/store/backup/restore.ts';
import { openStore, StoreRefused } from '../../server/store/store.ts';
import { fillWithEverything } from './support/full-store.ts';
import { day, may1 } from './support/made-up.ts';
import { temporaryFolder } from './support/temporary-store.ts';

let good: Buffer;
beforeAll(async () => {
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-store-'));
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => may1 + 2 * day });
  fillWithEverything(store);
  const { file } = await store.backup(folder);
  store.close();
  good = readFileSync(file);
  rmSync(folder, { recursive: true });
}, 60_000);

const written = (bytes: Uint8Array): string => {
  const file = join(temporaryFolder(), 'backup.sqlite');
  writeFileSync(file, bytes);
  return file;
};

/** Everything that is stored, table by table. */
function contentOf(file: string): Record<string, unknown[]> {
  const db = new Database(file, { readonly: true });
  try {
    const tables = db
      .prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")
      .pluck()
      .all();
    return Object.fromEntries(tables.map((name) => [name, db.prepare(`SELECT * FROM "${name}"`).all()]));
  } finally {
    db.close();
  }
}

/** Undefined where it was refused. */
function restored(bytes: Uint8Array): Record<string, unknown[]> | undefined {
  const backup = written(bytes);
  const file = join(backup, '..', 'welcomb.db');
  try {
    restore(backup, file);
  } catch (error) {
    if (error instanceof StoreRefused) return undefined;
    throw error;
  }
  return contentOf(file);
}

function withoutDigest(): Buffer {
  const file = written(good);
  const db = new Database(file);
  db.prepare("DELETE FROM setting WHERE key = 'internal/backup-digest'").run();
  db.close();
  return readFileSync(file);
}

const flipped = (bytes: Uint8Array, bits: readonly number[]): Buffer => {
  const changed = Buffer.from(bytes);
  for (const bit of bits) changed[bit >>> 3] = (changed[bit >>> 3] ?? 0) ^ (1 << (bit & 7));
  return changed;
};

/** Undefined where its check refuses it. */
function checked(bytes: Uint8Array, file: string): Record<string, unknown[]> | undefined {
  writeFileSync(file, bytes);
  try {
    check(file);
  } catch (error) {
    if (error instanceof StoreRefused) return undefined;
    throw error;
  }
  return contentOf(file);
}

/** Anywhere, and as often where something is written: most of a small file is room that is not used yet. */
function oddBits(most: number): fc.Arbitrary<number[]> {
  const used = [...good.keys()].filter((at) => good[at] !== 0);
  const bit = fc.oneof(
    fc.integer({ min: 0, max: good.length * 8 - 1 }),
    fc.tuple(fc.constantFrom(...used), fc.nat(7)).map(([at, of]) => at * 8 + of),
  );
  return fc.uniqueArray(bit, { minLength: 1, maxLength: most });
}

describe('flipped bits', { timeout: 120_000 }, () => {
  test('anywhere in the file are refused, or what is stored reads back the same', () => {
    const file = written(good);
    const whole = contentOf(file);
    let refused = 0;
    fc.assert(
      fc.property(oddBits(4), (bits) => {
        const content = checked(flipped(good, bits), file);
        if (content === undefined) refused += 1;
        else expect(content).toEqual(whole);
      }),
      { numRuns: 300 },
    );
    expect(refused).toBeGreaterThan(50);
  });

  test('that pass leave a restore the same', () => {
    const whole = restored(good);
    fc.assert(
      fc.property(oddBits(1), (bits) => {
        expect([undefined, whole]).toContainEqual(restored(flipped(good, bits)));
      }),
      { numRuns: 20 },
    );
  });

  test('in the text of a row are told as a digest that differs', () => {
    const at = good.indexOf('Upper field');
    expect(() => check(written(flipped(good, [at * 8])))).toThrow(/its digest \(SHA-256\) is not that/);
    expect(check(written(good))).toBe('digest');
  });
});

describe('a backup without a digest', () => {
  test('is read row by row and restored', () => {
    const bytes = withoutDigest();
    expect(check(written(bytes))).toBe('rows');
    expect(restored(bytes)).toEqual(restored(good));
  });

  test.each(['alert', 'introduction', 'log_entry', 'setting', 'person', 'hive'])(
    'is refused where a row of %s can’t be read',
    (table) => {
      const file = written(withoutDigest());
      const column = {
        alert: 'state',
        introduction: 'setup',
        log_entry: 'entry',
        setting: 'value',
        person: 'role',
      }[table];
      const db = new Database(file);
      db.prepare(`UPDATE ${table} SET ${column ?? 'box'} = '{"half'`).run();
      db.close();
      expect(() => check(file)).toThrow(new RegExp(`row 1 of "${table}" can't be read`));
    },
  );

  test('is refused where a sealed day is not the one of which its hours were made', () => {
    const db = new Database(withoutDigest());
    const { id, readings } = db.prepare('SELECT id, readings FROM reading_day').get() as {
      id: number;
      readings: Buffer;
    };
    const put = db.prepare('UPDATE reading_day SET readings = ? WHERE id = ?');
    let accepted = 0;
    for (let bit = 0; bit < readings.length * 8; bit += 1) {
      put.run(flipped(readings, [bit]), id);
      try {
        checkReadings(db);
        accepted += 1;
      } catch {
        continue;
      }
    }
    db.close();
    // A digest finds all of them; without one, a change of a value that is none of the hour's figures remains possible.
    expect(accepted / (readings.length * 8)).toBeLessThan(0.05);
  });
});

test.each([100, 4096, 3 * 4096])('a file that is %i bytes short is refused', (bytes) => {
  const file = written(good);
  truncateSync(file, good.length - bytes);
  expect(() => check(file)).toThrow(/does not pass its check: .*(no whole pages|was cut off|malformed)/);
});

describe('a foreign schema is refused', () => {
  test.each([
    ['trigger', "CREATE TRIGGER t AFTER DELETE ON session BEGIN INSERT INTO mark VALUES ('x', 1); END"],
    ['view', 'CREATE VIEW v AS SELECT * FROM person'],
    ['table', 'CREATE TABLE more (id INTEGER)'],
    ['index', 'CREATE INDEX more ON person (role)'],
    ['column', 'ALTER TABLE person ADD COLUMN more TEXT'],
    ['missing index', 'DROP INDEX hive_site'],
    ['virtual table', 'CREATE VIRTUAL TABLE more USING fts5(text)'],
  ])('a %s', (_what, sql) => {
    for (const bytes of [good, withoutDigest()]) {
      const file = written(bytes);
      const db = new Database(file);
      db.exec(sql);
      db.close();
      expect(() => check(file)).toThrow(
        /which no version of this program makes|not as this program|is missing/,
      );
      expect(restored(readFileSync(file))).toBeUndefined();
    }
  });
});

test('sessions, tokens and calendar links of a backup let nobody in', () => {
  const content = restored(good);
  expect(content).toMatchObject({ session: [], token: [], person: [{ name: 'Ada' }] });
  expect(content?.['setting']).toMatchObject([{ key: 'farm' }]);
});

test.each([1, 2, 3])('a full database of schema %i, without a digest, is restored', (version) => {
  const folder = temporaryFolder();
  const backup = join(folder, 'backup.sqlite');
  copyFileSync(fileURLToPath(new URL(`fixtures/schema-${String(version)}.sqlite`, import.meta.url)), backup);
  restore(backup, join(folder, 'welcomb.db'));
  const store = openStore({ file: join(folder, 'welcomb.db') });
  expect(store.introductions.allEntries()).toHaveLength(3);
  expect(store.unreadable.list()).toEqual([]);
  store.close();
});
