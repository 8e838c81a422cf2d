/** A database that was taken back has the very tables of the earlier schema: a new migration brings how it is undone. */
import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { migrations, schemaOf } from '../../server/store/migrate.ts';
import { takeBackTo } from './undone-migrations.ts';

const versions = migrations.map(({ version }) => version);

function emptyAt(schema: number): Database.Database {
  const db = new Database(':memory:');
  for (const { version, sql } of migrations) if (version <= schema) db.exec(sql);
  return db;
}

const tables = (db: Database.Database): unknown =>
  db.prepare('SELECT name, sql FROM sqlite_master ORDER BY name').all();

it.each(versions.slice(1, -1))('to schema %i', (schema) => {
  const db = emptyAt(Math.max(...versions));
  takeBackTo(db, schema);
  expect(tables(db), 'undo the newest migration in undone-migrations.ts').toEqual(tables(emptyAt(schema)));
  expect(schemaOf(db)).toBe(schema);
});
