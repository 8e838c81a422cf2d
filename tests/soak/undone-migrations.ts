/** A database as an earlier schema has it: each migration since is undone. */
import type Database from 'better-sqlite3';

/** The newest first. A new migration gets its line here. */
const undone = [
  { version: 5, undo: 'ALTER TABLE quarantine DROP COLUMN retained' },
  { version: 4, undo: 'DROP TABLE hive_visit' },
  { version: 3, undo: 'DROP TABLE forecast' },
] as const;

/** For schema 2 and later. */
export function takeBackTo(db: Database.Database, schema: number): void {
  for (const { version, undo } of undone) if (version > schema) db.exec(undo);
  db.pragma(`user_version = ${String(schema)}`);
}
