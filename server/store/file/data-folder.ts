/**
 * What the database in a data folder is called, and which process holds the folder. An exclusive lock of SQLite on an
 * empty file: the system lets go of it when the process ends, however it ends, so that no leftover of a power cut ever
 * has to be cleared away by hand.
 */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { connection } from './connection.ts';
import { StoreRefused, toStoreError } from '../errors.ts';
import { makeFolder } from './private-files.ts';

export interface FolderLock {
  release(): void;
}

export const databaseName = 'welcomb.db';
const lockName = 'welcomb.lock';

/** Throws `StoreRefused` where another process holds the folder, `StoreUnavailable` where it can't be written. */
export function lockFolder(folder: string): FolderLock {
  makeFolder(folder);
  const file = join(folder, lockName);
  let db: Database.Database | undefined;
  try {
    db = connection(file, { timeout: 0 });
    // Nothing is ever written, so that it can also be had on a disk that is full.
    db.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    db?.close();
    if (error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY')) {
      throw new StoreRefused(
        `The folder ${folder} is in use by a server that runs: stop it first, or name another folder with --data.`,
      );
    }
    throw toStoreError(error, file);
  }
  const held = db;
  return {
    release: () => {
      held.close();
    },
  };
}

/** Whether a process, this one included, holds the folder. */
export function isLocked(folder: string): boolean {
  try {
    lockFolder(folder).release();
    return false;
  } catch (error) {
    if (error instanceof StoreRefused) return true;
    throw error;
  }
}
