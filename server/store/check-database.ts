/** Whether a database file is whole: every page, every index, every reference. */
import { existsSync, rmSync } from 'node:fs';
import Database from 'better-sqlite3';
import { StoreRefused } from './errors.ts';
import { applicationId } from './open-database.ts';

/** What SQLite keeps beside a database in write-ahead mode. */
export const companions = ['-wal', '-shm'];

/**
 * Looks at every page and index, also of a database that a server has open. Throws `StoreRefused` with what is wrong.
 * Takes about a second for 200 MB: a server asks `checkAside`.
 */
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
