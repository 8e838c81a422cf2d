/** Whether a database file is whole: every page, every index, every reference, and what is stored in them. */
import { existsSync, rmSync, statSync } from 'node:fs';
import { basename, dirname } from 'node:path';
import type Database from 'better-sqlite3';
import { checkRows } from './check-rows.ts';
import { schemaDifference } from './check-schema.ts';
import { connection } from '../file/connection.ts';
import { databaseName, lockFolder, type FolderLock } from '../file/data-folder.ts';
import { digestHolds } from '../file/content-digest.ts';
import { StoreRefused } from '../errors.ts';
import { applicationId } from '../file/open-database.ts';

/** What SQLite keeps beside a database in write-ahead mode. */
export const companions = ['-wal', '-shm'];

/** A backup of an earlier version carries no digest: each of its rows was read instead. */
export type Verified = 'digest' | 'rows';

/**
 * Looks at every page and index, also of a database that a server has open; then at the digest of a backup, or where
 * there is none at every row. Throws `StoreRefused` with what is wrong.
 * Takes a second or two for 200 MB: a server asks `checkAside`.
 */
export function check(file: string): Verified {
  const there = companions.filter((end) => existsSync(file + end));
  const refuse = (why: string): StoreRefused => new StoreRefused(`${file} does not pass its check: ${why}.`);
  let db: Database.Database | undefined;
  try {
    db = connection(file, { readonly: true, fileMustExist: true });
    const wrong = whatIsWrong(db, file);
    if (wrong !== undefined) throw refuse(wrong);
    const holds = digestHolds(db);
    if (holds === false)
      throw refuse('its digest (SHA-256) is not that of what it holds, so something in it has changed');
    if (holds === undefined) checkRows(db);
    return holds === undefined ? 'rows' : 'digest';
  } catch (error) {
    if (error instanceof StoreRefused) throw error;
    throw refuse(error instanceof Error ? error.message : String(error));
  } finally {
    db?.close();
    dropLeftovers(file, there);
  }
}

/** A reader of a database in write-ahead mode leaves these behind. */
function dropLeftovers(file: string, there: readonly string[]): void {
  const left = companions.filter((end) => !there.includes(end) && existsSync(file + end));
  if (left.length === 0) return;
  // A server that has started meanwhile writes into them: without the lock they are not for us to delete.
  const lock = basename(file) === databaseName ? lockIfFree(dirname(file)) : undefined;
  if (lock === null) return;
  for (const end of left) rmSync(file + end, { force: true });
  lock?.release();
}

/** Null where a server holds the folder, or where it can't be locked. */
function lockIfFree(folder: string): FolderLock | null {
  try {
    return lockFolder(folder);
  } catch {
    return null;
  }
}

function whatIsWrong(db: Database.Database, file: string): string | undefined {
  if (db.pragma('application_id', { simple: true }) !== applicationId)
    return 'it is not a database of this program';
  const cutOff = lengthProblem(db, file);
  if (cutOff !== undefined) return cutOff;
  // Before anything that could run what a foreign schema calls for.
  const difference = schemaDifference(db);
  if (difference !== undefined) return difference;
  const found = db.pragma('integrity_check(1)', { simple: true }) as string;
  if (found !== 'ok') return found;
  const broken = db.pragma('foreign_key_check') as unknown[];
  return broken.length > 0 ? 'rows point to what is not there' : undefined;
}

/** SQLite reads what is missing of the last page as zeros. */
function lengthProblem(db: Database.Database, file: string): string | undefined {
  const bytes = statSync(file).size;
  const pageBytes = db.pragma('page_size', { simple: true }) as number;
  if (bytes % pageBytes !== 0)
    return `its ${String(bytes)} bytes are no whole pages of ${String(pageBytes)}, so that it was cut off or added to`;
  const pages = db.pragma('page_count', { simple: true }) as number;
  // Its newest pages may still be in the log.
  if (existsSync(`${file}-wal`) || bytes >= pages * pageBytes) return undefined;
  return `it has ${String(bytes / pageBytes)} pages of ${String(pages)}, so that it was cut off`;
}
