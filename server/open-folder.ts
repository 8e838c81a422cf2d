/** The data folder as the server opens it: locked, private to its user, with its store. */
import { join } from 'node:path';
import type { Logger } from 'pino';
import { backupFolder, settingFaults } from './farm/settings.ts';
import { finishRestore } from './store/backup/restore.ts';
import { databaseName, lockFolder, type FolderLock } from './store/file/data-folder.ts';
import { tightenDataFolder, tightenFiles } from './store/file/private-files.ts';
import { openStore, type Store } from './store/store.ts';
import { UserError, fileFault } from './user-error.ts';

export interface OpenFolder {
  readonly store: Store;
  close(): void;
}

/** Throws `UserError` where the folder can't be used. */
export function openDataFolder(folder: string, clock: () => number, log: Logger): OpenFolder {
  let lock: FolderLock | undefined;
  let opened: Store | undefined;
  try {
    lock = lockFolder(folder);
    const exposed = tightenDataFolder(folder);
    const file = join(folder, databaseName);
    if (finishRestore(file)) log.warn('A restore that was cut off was brought to its end.');
    const store = openStore({ file, nowMs: clock, logger: log });
    opened = store;
    warnOfExposedFiles([...exposed, ...exposedBackups(store)], log);
    warnOfUnreadableSettings(store, log);
    return {
      store,
      close() {
        store.close();
        lock?.release();
      },
    };
  } catch (error) {
    opened?.close();
    lock?.release();
    throw error instanceof UserError ? error : cannotOpen(folder, error);
  }
}

function exposedBackups(store: Store): readonly string[] {
  const folder = backupFolder(store);
  try {
    return folder === null ? [] : tightenFiles(folder);
  } catch {
    // Its disk may be gone: the next backup says so, and the server does its work meanwhile.
    return [];
  }
}

function warnOfExposedFiles(exposed: readonly string[], log: Logger): void {
  if (exposed.length > 0)
    log.warn({ exposed }, 'Other users of this machine may read these: take their rights.');
}

function warnOfUnreadableSettings(store: Store, log: Logger): void {
  for (const { name, problem, effect } of settingFaults(store.settings))
    log.warn({ setting: name, problem }, `A stored setting can’t be read. ${effect}`);
}

function cannotOpen(folder: string, cause: unknown): UserError {
  return new UserError(
    'cannot-start',
    `the data folder ${folder} can't be used: ${fileFault(cause)}; name another with --data.`,
    { cause },
  );
}
