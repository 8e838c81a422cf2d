/** Brings a database to the newest schema: numbered steps, one transaction each, a backup before the first. */
import { copyFileSync, existsSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import type Database from 'better-sqlite3';
import { StoreRefused, toStoreError } from './errors.ts';
import { freeBytesOf } from './file/free-bytes.ts';
import { megabytes } from './file/megabytes.ts';
import { makePrivate } from './file/private-files.ts';
import { first } from './migrations/0001-first.ts';
import { announced } from './migrations/0002-announced.ts';
import { forecasts } from './migrations/0003-forecasts.ts';
import { hiveVisits } from './migrations/0004-hive-visits.ts';
import { quarantineRetained } from './migrations/0005-quarantine-retained.ts';

export interface Migration {
  /** 1, 2, 3 … without a gap. */
  readonly version: number;
  /** What changes, for the owner, in one sentence. */
  readonly note: string;
  readonly sql: string;
}

export const migrations: readonly Migration[] = [first, announced, forecasts, hiveVisits, quarantineRetained];

export interface MigrationReport {
  readonly from: number;
  readonly to: number;
  readonly notes: readonly string[];
  /** Copy of the database as it was; absent for a new one. */
  readonly backupFile?: string;
}

export const schemaOf = (db: Database.Database): number =>
  db.pragma('user_version', { simple: true }) as number;

/**
 * Throws `StoreRefused` when the disk has no room for the backup, and whatever a step throws; the steps before it stay
 * done, the failed one leaves nothing behind.
 */
export function migrate(
  db: Database.Database,
  file: string,
  steps: readonly Migration[] = migrations,
): MigrationReport {
  const from = schemaOf(db);
  const newest = steps.at(-1)?.version ?? 0;
  const due = steps.filter((step) => step.version > from);
  if (due.length === 0) return { from, to: from, notes: [] };
  const backupFile = from > 0 ? backUp(db, file, from) : undefined;
  for (const step of due) runStep(db, file, step);
  return {
    from,
    to: newest,
    notes: due.map((step) => step.note),
    ...(backupFile === undefined ? {} : { backupFile }),
  };
}

function runStep(db: Database.Database, file: string, step: Migration): void {
  try {
    db.transaction(() => {
      db.exec(step.sql);
      db.pragma(`user_version = ${String(step.version)}`);
    }).immediate();
  } catch (error) {
    throw toStoreError(error, file);
  }
}

/** A plain copy beside the database, made with everything moved out of the write-ahead log. */
function backUp(db: Database.Database, file: string, version: number): string {
  db.pragma('wal_checkpoint(TRUNCATE)');
  const bytes = statSync(file).size;
  const free = freeBytesOf(dirname(file));
  // The copy, and as much again for the step's own changes.
  if (free !== null && free < bytes * 2) {
    throw new StoreRefused(
      `The upgrade of ${file} needs ${megabytes(bytes * 2)} MB free for a backup first and there are ` +
        `${megabytes(free)} MB: free some space and start again; nothing was changed.`,
    );
  }
  const copy = freeName(`${file}.before-schema-${String(version + 1)}`);
  copyFileSync(file, copy);
  makePrivate(copy);
  return copy;
}

function freeName(wanted: string): string {
  let name = wanted;
  for (let n = 2; existsSync(name); n += 1) name = `${wanted}-${String(n)}`;
  return name;
}
