/** Backups while the server runs: copied page by page, opened and checked, rotated; and the way back. */
import { copyFileSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Context } from './context.ts';
import { StoreRefused, StoreUnavailable, toStoreError } from './errors.ts';
import { applicationId, openDatabase } from './open-database.ts';

export interface BackupMade {
  readonly file: string;
  readonly bytes: number;
  readonly atMs: number;
  readonly verified: true;
}

/** What SQLite keeps beside a database in write-ahead mode. */
const companions = ['-wal', '-shm'];
const namePattern = /^welcomb-\d{8}T\d{6}Z\.sqlite$/;

/**
 * Writes a checked copy into `folder` and drops the oldest beyond `keep`. Throws `StoreUnavailable` where it can't be
 * written and `StoreRefused` where the copy does not pass its check; older backups stay.
 */
export async function backup(context: Context, folder: string, keep = 14): Promise<BackupMade> {
  const atMs = context.nowMs();
  const stamp = new Date(atMs).toISOString().replaceAll(/[-:]|\.\d+/g, '');
  const file = join(folder, `welcomb-${stamp}.sqlite`);
  const unfinished = `${file}.unfinished`;
  try {
    mkdirSync(folder, { recursive: true });
    rmSync(unfinished, { force: true });
    await context.db.backup(unfinished);
    makeSingleFile(unfinished);
    check(unfinished);
    renameSync(unfinished, file);
  } catch (error) {
    if (existsSync(unfinished)) rmSync(unfinished);
    throw backupError(error, folder);
  }
  for (const old of listBackups(folder).slice(keep)) rmSync(old);
  return { file, bytes: statSync(file).size, atMs, verified: true };
}

function backupError(error: unknown, folder: string): unknown {
  if (error instanceof StoreRefused) return error;
  const known = toStoreError(error, folder);
  if (known instanceof StoreUnavailable) return known;
  const reason = error instanceof Error ? error.message : String(error);
  return new StoreUnavailable('input-output', `The backup to ${folder} failed: ${reason}.`, error);
}

/** Out of write-ahead mode: a backup is one file that opens from a read-only disk, too. */
function makeSingleFile(file: string): void {
  const db = new Database(file);
  db.pragma('journal_mode = DELETE');
  db.close();
}

/** Newest first. */
export function listBackups(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => namePattern.test(name))
    .sort()
    .reverse()
    .map((name) => join(folder, name));
}

/** Looks at every page and index of a database that nobody writes to. Throws `StoreRefused` with what is wrong. */
export function check(file: string): void {
  const there = companions.filter((end) => existsSync(file + end));
  const refuse = (why: string): StoreRefused => new StoreRefused(`${file} does not pass its check: ${why}.`);
  let db: Database.Database | undefined;
  try {
    db = new Database(file, { readonly: true, fileMustExist: true });
    if (db.pragma('application_id', { simple: true }) !== applicationId) {
      throw refuse('it is not a database of this program');
    }
    const found = db.pragma('integrity_check(1)', { simple: true }) as string;
    if (found !== 'ok') throw refuse(found);
    const broken = db.pragma('foreign_key_check') as unknown[];
    if (broken.length > 0) throw refuse('rows point to what is not there');
  } catch (error) {
    if (error instanceof StoreRefused) throw error;
    throw refuse(error instanceof Error ? error.message : String(error));
  } finally {
    db?.close();
    // A reader of a database in write-ahead mode leaves these behind.
    for (const end of companions) if (!there.includes(end)) rmSync(file + end, { force: true });
  }
}

/**
 * Puts a backup in the place of the database; the server must not run. What was there is kept beside it.
 * Throws `StoreRefused` for a backup that is damaged, foreign or newer; then nothing was touched.
 */
export function restore(backupFile: string, file: string): { readonly keptAs: string | null } {
  check(backupFile);
  const incoming = `${file}.incoming`;
  rmSync(incoming, { force: true });
  copyFileSync(backupFile, incoming);
  try {
    // Also upgrades an older backup, and refuses a newer one.
    const { db, migrated } = openDatabase(incoming, false);
    db.close();
    if (migrated.backupFile !== undefined) rmSync(migrated.backupFile);
  } catch (error) {
    removeDatabase(incoming);
    throw error;
  }
  const keptAs = existsSync(file) ? moveAside(file) : null;
  renameSync(incoming, file);
  return { keptAs };
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
