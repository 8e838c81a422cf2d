/** Opens the database file: refuses what is not ours, sets durability, migrates. */
import { closeSync, existsSync, openSync, readSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import type Database from 'better-sqlite3';
import { connection } from './connection.ts';
import { removeDigest } from './content-digest.ts';
import { StoreRefused, StoreUnavailable, toStoreError } from '../errors.ts';
import { makeFolder, makePrivate } from './private-files.ts';
import { migrate, migrations, schemaOf, type Migration, type MigrationReport } from '../migrate.ts';

/** "WLCB": how a database of ours is recognised. */
export const applicationId = 0x574c4342;

const busyTimeoutMs = 1000;
/** Above this size the start would take too long; `check` and every backup look at all of it. */
const quickCheckUpToBytes = 64e6;

export interface OpenedDatabase {
  readonly db: Database.Database;
  readonly migrated: MigrationReport;
}

/**
 * Opens or creates `file`. Throws `StoreRefused` for a foreign, damaged or newer database, which is left as it is,
 * and `StoreUnavailable` when the file or its folder can't be used.
 */
export function openDatabase(
  file: string,
  readonly: boolean,
  steps: readonly Migration[] = migrations,
): OpenedDatabase {
  const isNew = !existsSync(file) || statSync(file).size === 0;
  if (isNew && readonly) throw new StoreRefused(`There is no database at ${file}.`);
  if (!isNew) refuseForeign(file);
  const db = connect(file, readonly);
  try {
    if (isNew) create(db);
    else {
      refuseDamaged(db, file);
      refuseNewer(db, file, steps);
    }
    // Only now is anything written to a file that was there.
    if (!readonly) db.pragma('journal_mode = WAL');
    const migrated = readonly ? refuseOlder(db, file, steps) : migrate(db, file, steps);
    if (!readonly) removeDigest(db);
    return { db, migrated };
  } catch (error) {
    db.close();
    throw toStoreError(error, file);
  }
}

function connect(file: string, readonly: boolean): Database.Database {
  try {
    if (!readonly) makeFolder(dirname(file));
    const db = connection(file, { readonly, timeout: busyTimeoutMs });
    // Before its log is made, which takes the same rights.
    if (!readonly) makePrivate(file);
    return durable(db);
  } catch (error) {
    const known = toStoreError(error, file);
    if (known instanceof StoreUnavailable) throw known;
    throw new StoreUnavailable(
      'read-only',
      `${file} can't be opened: ${error instanceof Error ? error.message : String(error)}.`,
      error,
    );
  }
}

function durable(db: Database.Database): Database.Database {
  try {
    // The compiled-in default in WAL mode is NORMAL although the pragma already reads 2; only setting it counts.
    db.pragma('synchronous = FULL');
    db.pragma('foreign_keys = ON');
    db.pragma('wal_autocheckpoint = 1000');
    db.pragma('journal_size_limit = 8388608');
    // 2 MB: the pages are in the system's cache as well.
    db.pragma('cache_size = -2000');
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

/** Still in rollback-journal mode, so that our mark is in the file itself from its first byte on. */
function create(db: Database.Database): void {
  db.pragma('auto_vacuum = INCREMENTAL');
  db.pragma(`application_id = ${String(applicationId)}`);
}

/** Looks at the header only: a file that is not ours is not even opened as a database. */
function refuseForeign(file: string): void {
  const header = Buffer.alloc(100);
  const handle = openSync(file, 'r');
  const length = readSync(handle, header, 0, 100, 0);
  closeSync(handle);
  if (length < 100 || header.toString('latin1', 0, 16) !== 'SQLite format 3\0') {
    throw new StoreRefused(
      `${file} is not a database, or its beginning is damaged: name another file, or restore a backup; it was left as it is.`,
    );
  }
  if (header.readUInt32BE(68) !== applicationId) {
    throw new StoreRefused(
      `${file} is a database of another program: name another file; it was left as it is.`,
    );
  }
}

function refuseDamaged(db: Database.Database, file: string): void {
  const damaged = (detail: string): StoreRefused =>
    new StoreRefused(`${file} is damaged (${detail}): restore the newest backup; it was left as it is.`);
  try {
    db.prepare('SELECT count(*) FROM sqlite_schema').get();
    if (statSync(file).size > quickCheckUpToBytes) return;
    const found = db.pragma('quick_check(1)', { simple: true }) as string;
    if (found !== 'ok') throw damaged(found.replaceAll(/\s+/g, ' ').trim());
  } catch (error) {
    const known = toStoreError(error, file);
    if (known instanceof StoreUnavailable && known.kind === 'damaged') throw damaged(String(error));
    throw known;
  }
}

function refuseNewer(db: Database.Database, file: string, steps: readonly Migration[]): void {
  const version = schemaOf(db);
  const newest = steps.at(-1)?.version ?? 0;
  if (version <= newest) return;
  throw new StoreRefused(
    `${file} was written by a newer version of this program (schema ${String(version)}, known up to ${String(newest)}): ` +
      'install that version again, or restore a backup made before the upgrade.',
  );
}

/** A look must not upgrade what it looks at. */
function refuseOlder(db: Database.Database, file: string, steps: readonly Migration[]): MigrationReport {
  const version = schemaOf(db);
  const newest = steps.at(-1)?.version ?? 0;
  if (version === newest) return { from: version, to: version, notes: [] };
  throw new StoreRefused(
    `${file} has schema ${String(version)} and this program reads schema ${String(newest)}: start the server once to upgrade it.`,
  );
}
