/** Backups while the server runs: copied page by page, opened and checked, rotated. The way back: `restore.ts`. */
import { existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { finishAside } from './check-aside.ts';
import { connection } from '../file/connection.ts';
import type { Context } from '../context.ts';
import { StoreRefused, StoreUnavailable, toStoreError } from '../errors.ts';
import { freeBytesOf } from '../file/free-bytes.ts';
import { makeFolder, makePrivate } from '../file/private-files.ts';
import { fileFault } from '../../user-error.ts';
import { megabytes } from '../file/megabytes.ts';

export interface BackupMade {
  readonly file: string;
  readonly bytes: number;
  readonly atMs: number;
  readonly verified: true;
}

const namePattern = /^welcomb-\d{8}T\d{6}Z\.sqlite$/;
const unfinishedPattern = /^welcomb-\d{8}T\d{6}Z\.sqlite\.unfinished/;
/** Setting: a copy that is older than this is nobody’s any more: the power went while it was made. */
const abandonedAfterMs = 86_400_000;
/** Setting: clocks of one machine differ by less, whatever its zone. */
const clockSlackMs = 86_400_000;

/** The most that SQLite takes in one step. */
const allPages = 0x7fffffff;

const nameAt = (atMs: number): string =>
  `welcomb-${new Date(atMs).toISOString().replaceAll(/[-:]|\.\d+/g, '')}.sqlite`;

function dropAbandoned(folder: string): void {
  for (const name of readdirSync(folder).filter((one) => unfinishedPattern.test(one))) {
    const left = join(folder, name);
    const { mtimeMs } = statSync(left, { throwIfNoEntry: false }) ?? { mtimeMs: Infinity };
    if (mtimeMs < Date.now() - abandonedAfterMs) rmSync(left, { force: true });
  }
}

/** How a backup is made. */
export interface BackupOptions {
  /** How many of the newest stay. */
  readonly keep?: number;
  /**
   * All pages in one go, while which this process does nothing else. Page by page a copy begins anew whenever another
   * process has written meanwhile: beside a busy server it would not end.
   */
  readonly inOneGo?: boolean;
}

/** One at a time into a folder: who asks for one while another is made gets that one. */
export function backups(context: Context): (folder: string, options?: BackupOptions) => Promise<BackupMade> {
  const underWay = new Map<string, Promise<BackupMade>>();
  return (folder, options = {}) => {
    const running = underWay.get(folder);
    if (running) return running;
    const making = backup(context, folder, options).finally(() => underWay.delete(folder));
    underWay.set(folder, making);
    return making;
  };
}

/**
 * Writes a checked copy into `folder` and drops the oldest beyond `keep`. Throws `StoreUnavailable` where it can't be
 * written and `StoreRefused` where the copy does not pass its check; older backups stay.
 */
async function backup(
  context: Context,
  folder: string,
  { keep = 14, inOneGo = false }: BackupOptions,
): Promise<BackupMade> {
  const atMs = context.nowMs();
  const file = join(folder, nameAt(atMs));
  const unfinished = `${file}.unfinished`;
  try {
    makeFolder(folder);
    dropAbandoned(folder);
    rmSync(unfinished, { force: true });
    refuseWithoutRoom(context.file, folder);
    await context.db.backup(unfinished, inOneGo ? { progress: () => allPages } : undefined);
    makePrivate(unfinished);
    makeSingleFile(unfinished);
    await finishAside(unfinished);
    renameSync(unfinished, file);
  } catch (error) {
    if (existsSync(unfinished)) rmSync(unfinished);
    throw backupError(error, folder);
  }
  const others = listBackups(folder, atMs).filter((one) => one !== file);
  for (const old of others.slice(keep - 1)) rmSync(old);
  return { file, bytes: statSync(file).size, atMs, verified: true };
}

/** Setting: a copy, with its digest, is larger than the database and its log by less. */
const roomBeside = 1.1;

/** Before it begins: what lies on the same disk, readings above all, would find no room while the copy grows. */
function refuseWithoutRoom(file: string, folder: string): void {
  const bytes = [file, `${file}-wal`].map((one) => statSync(one, { throwIfNoEntry: false })?.size ?? 0);
  const needed = bytes.reduce((sum, one) => sum + one, 0) * roomBeside;
  const free = freeBytesOf(folder);
  if (free === null || free >= needed) return;
  throw new StoreUnavailable(
    'disk-full',
    `The backup to ${folder} needs ${megabytes(needed)} MB and there are ${megabytes(free)} MB: free some space, or name another folder.`,
  );
}

function backupError(error: unknown, folder: string): unknown {
  if (error instanceof StoreRefused) return error;
  const known = toStoreError(error, folder);
  if (known instanceof StoreUnavailable) return known;
  return new StoreUnavailable(
    'input-output',
    `The backup to ${folder} failed: ${fileFault(error)}. Name another folder.`,
    error,
  );
}

/** Out of write-ahead mode: a backup is one file that opens from a read-only disk, too. */
function makeSingleFile(file: string): void {
  const db = connection(file);
  db.pragma('journal_mode = DELETE');
  db.close();
}

/** Newest first; last of all those whose day has not come, for they were made by a clock that was wrong. */
export function listBackups(folder: string, nowMs = Date.now()): string[] {
  if (!existsSync(folder)) return [];
  const names = readdirSync(folder)
    .filter((name) => namePattern.test(name))
    .sort()
    .reverse();
  const latest = nameAt(nowMs + clockSlackMs);
  return [...names.filter((name) => name <= latest), ...names.filter((name) => name > latest)].map((name) =>
    join(folder, name),
  );
}
