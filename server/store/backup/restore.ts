/** The way back from a backup: checked and upgraded beside the database first, put in its place last. */
import { closeSync, copyFileSync, existsSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import type Database from 'better-sqlite3';
import { checkAside } from './check-aside.ts';
import { check, companions, type Verified } from './check-database.ts';
import { StoreUnavailable, toStoreError } from '../errors.ts';
import { fileFault } from '../../user-error.ts';
import { openDatabase } from '../file/open-database.ts';
import { makePrivate } from '../file/private-files.ts';

/** Calendar links are made with it; without it, the links of before open nothing. */
export const calendarKeySetting = 'internal/calendar-key';

export interface Restored {
  /** Where the database that was there is now; null where there was none. */
  readonly keptAs: string | null;
}

/**
 * Puts a backup in the place of the database; the server must not run. What was there is kept beside it.
 * Throws `StoreRefused` for a backup that is damaged, foreign or newer; then nothing was touched.
 * @param onChecked called between the check and the first change
 */
export function restore(
  backupFile: string,
  file: string,
  onChecked: (verified: Verified) => void = () => undefined,
): Restored {
  onChecked(check(backupFile));
  return putInPlace(readied(backupFile, file), file);
}

/**
 * The first half of `restore` for a server that runs: gives the file that `putInPlace` takes once the store is closed.
 * Rejects as `restore` throws.
 */
export async function readyToRestore(backupFile: string, file: string): Promise<string> {
  await checkAside(backupFile);
  return readied(backupFile, file);
}

/** A copy beside the database, upgraded where the backup is older. Throws for one of a newer version. */
function readied(backupFile: string, file: string): string {
  const incoming = `${file}.incoming`;
  removeDatabase(incoming);
  try {
    copyFileSync(backupFile, incoming);
    makePrivate(incoming);
    const { db, migrated } = openDatabase(incoming, false);
    dropAccess(db);
    db.close();
    if (migrated.backupFile !== undefined) rmSync(migrated.backupFile);
    flush(incoming);
    return incoming;
  } catch (error) {
    removeDatabase(incoming);
    throw copyError(error, file);
  }
}

function copyError(error: unknown, file: string): unknown {
  if (!(error instanceof Error) || !('syscall' in error)) return toStoreError(error, file);
  return new StoreUnavailable(
    'input-output',
    `The backup can't be copied beside ${file}: ${fileFault(error)}. Nothing was changed.`,
    error,
  );
}

/** Whoever held a session, a token or a calendar link when the backup was made has to be let in anew. */
function dropAccess(db: Database.Database): void {
  db.transaction(() => {
    db.exec('DELETE FROM session; DELETE FROM token;');
    db.prepare('DELETE FROM setting WHERE key = ?').run(calendarKeySetting);
  })();
}

/** Moves the database aside and the readied file in; both are on the disk when it returns. */
export function putInPlace(incoming: string, file: string): Restored {
  renameSync(incoming, underWay(file));
  flush(dirname(file));
  return finishRestore(file) ?? { keptAs: null };
}

/** From when it has this name on, the next start brings the restore to its end, wherever a power cut stopped it. */
const underWay = (file: string): string => `${file}.restoring`;

/** Before the database is opened. Undefined where no restore was under way. */
export function finishRestore(file: string): Restored | undefined {
  const readied = underWay(file);
  if (!existsSync(readied)) return undefined;
  const keptAs = existsSync(file) ? moveAside(file) : null;
  renameSync(readied, file);
  flush(dirname(file));
  return { keptAs };
}

/** Without it, a power cut could leave the new name and none of its content. */
function flush(path: string): void {
  const handle = openSync(path, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

function removeDatabase(file: string): void {
  for (const end of ['', ...companions]) rmSync(file + end, { force: true });
}

function moveAside(file: string): string {
  let kept = `${file}.replaced`;
  for (let n = 2; existsSync(kept); n += 1) kept = `${file}.replaced-${String(n)}`;
  // The log goes first: the new database must never meet the old one's log.
  for (const end of companions) if (existsSync(file + end)) renameSync(file + end, kept + end);
  renameSync(file, kept);
  return kept;
}
