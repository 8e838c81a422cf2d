/** What every part of the store works with: the one connection, the clock and safe transactions. */
import { statSync } from 'node:fs';
import type Database from 'better-sqlite3';
import { StoreUnavailable, toStoreError } from './errors.ts';
import { UnreadableRows } from './unreadable.ts';

export interface StoreLog {
  info(facts: Record<string, unknown>, message: string): void;
  warn(facts: Record<string, unknown>, message: string): void;
}

export interface Context {
  readonly db: Database.Database;
  readonly file: string;
  readonly nowMs: () => number;
  readonly log: StoreLog;
  readonly unreadable: UnreadableRows;
  /**
   * Runs `work` as one transaction, durable when it returns; joins the transaction that is already open.
   * Throws `StoreUnavailable` when the database could not do it; then nothing was stored.
   */
  write<T>(work: () => T): T;
  /** Throws `StoreUnavailable` where the file is not the one that was opened: what is written would be gone with it. */
  refuseMoved(): void;
  /** Changes when another connection has written to the file; what is kept in memory is then read again. */
  foreignVersion(): number;
}

const silent: StoreLog = { info: () => undefined, warn: () => undefined };

export function makeContext(
  db: Database.Database,
  file: string,
  nowMs: () => number,
  log: StoreLog = silent,
): Context {
  const transaction = db.transaction((work: () => unknown) => work());
  const dataVersion = db.prepare<[], number>('PRAGMA data_version').pluck();
  const inode = (): number | undefined => statSync(file, { throwIfNoEntry: false })?.ino;
  const opened = inode();
  const refuseMoved = (): void => {
    if (inode() === opened) return;
    throw new StoreUnavailable(
      'input-output',
      `${file} was moved or deleted while the server runs: bring it back, or start the server anew.`,
    );
  };
  return {
    db,
    file,
    nowMs,
    log,
    unreadable: new UnreadableRows(),
    foreignVersion: () => dataVersion.get() ?? 0,
    refuseMoved,
    write<T>(work: () => T): T {
      if (db.inTransaction) return work();
      refuseMoved();
      try {
        // Immediate: a lock held elsewhere is met before any work is done, not in the middle of it.
        return transaction.immediate(work) as T;
      } catch (error) {
        throw toStoreError(error, file);
      }
    },
  };
}

/** JSON as stored: undefined fields left out, keys in a fixed order, so that equal content is equal text. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    inner !== null && typeof inner === 'object' && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : inner,
  );
}
