/**
 * The digest that a backup carries within itself: SHA-256 over every row of every table. It can't be lost on the way, as
 * a file beside it could, and tells whether what is stored is what was stored when the backup was made.
 *
 * Counted are the schema's version, each table's name and columns, and its rows in the order of their keys; each value
 * with its type and length, so that no two contents are written alike.
 */
import { createHash, type Hash } from 'node:crypto';
import type Database from 'better-sqlite3';
import { schemaOf } from '../migrate.ts';

const key = 'internal/backup-digest';
const form = /^sha256:[0-9a-f]{64}$/;

type Value = null | bigint | number | string | Uint8Array;

/** Writes the digest of what the database holds into it. */
export function addDigest(db: Database.Database): void {
  db.transaction(() => {
    removeDigest(db);
    const value = JSON.stringify(contentDigest(db));
    db.prepare('INSERT INTO setting (key, value) VALUES (?, ?)').run(key, value);
  })();
}

/** A database that is written to is no backup any more. */
export function removeDigest(db: Database.Database): void {
  // Looked for first: a start on a full disk must not have to write.
  if (digestIn(db) !== undefined) db.prepare('DELETE FROM setting WHERE key = ?').run(key);
}

const digestIn = (db: Database.Database): string | undefined =>
  db.prepare<[string], string>('SELECT value FROM setting WHERE key = ?').pluck().get(key);

/** Whether the content has the digest that it carries; undefined where it carries none, as before this version. */
export function digestHolds(db: Database.Database): boolean | undefined {
  const text = digestIn(db);
  if (text === undefined) return undefined;
  const wanted = text.slice(1, -1);
  return form.test(wanted) && wanted === contentDigest(db);
}

function contentDigest(db: Database.Database): string {
  const hash = createHash('sha256');
  hash.update(`schema ${String(schemaOf(db))}\n`);
  const tables = db
    .prepare<[], string>(
      "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY name",
    )
    .pluck()
    .all();
  for (const table of tables) addTable(hash, db, table);
  return `sha256:${hash.digest('hex')}`;
}

function addTable(hash: Hash, db: Database.Database, table: string): void {
  const except = table === 'setting' ? `WHERE key <> '${key}'` : '';
  // Not by an index: in the order of the table itself.
  const rows = db.prepare(`SELECT * FROM "${table}" NOT INDEXED ${except}`).raw().safeIntegers();
  const columns = rows.columns().map(({ name }) => name);
  hash.update(`table ${table} ${columns.join(' ')}\n`);
  for (const row of rows.iterate() as IterableIterator<Value[]>) {
    for (const value of row) addValue(hash, value);
    hash.update('\n');
  }
}

function addValue(hash: Hash, value: Value): void {
  if (value === null) hash.update('n;');
  else if (value instanceof Uint8Array) hash.update(`b${String(value.length)}:`).update(value);
  else if (typeof value === 'string') hash.update(`t${String(value.length)}:`).update(value, 'utf8');
  else hash.update(`${typeof value === 'bigint' ? 'i' : 'r'}${String(value)};`);
}
