/** Which backups there are, or why that can't be said, for the page and the commands. */
import { listBackups } from '../store/backup/backup.ts';
import type { Store } from '../store/store.ts';
import { fileFault } from '../user-error.ts';
import { backupFolder } from './settings.ts';

interface Backups {
  /** Newest first. */
  readonly files: readonly string[];
  /** Why none can be listed, in a sentence. */
  readonly problem?: string;
}

export function backupsIn(folder: string): Backups {
  try {
    return { files: listBackups(folder) };
  } catch (error) {
    return {
      files: [],
      problem: `Backups in ${folder} can’t be listed: ${fileFault(error)}. Name another folder.`,
    };
  }
}

/** In the folder that the settings name; null where that setting can't be read. */
export function backupsThere(store: Store): Backups & { readonly folder: string | null } {
  const folder = backupFolder(store);
  if (folder !== null) return { folder, ...backupsIn(folder) };
  return {
    folder,
    files: [],
    problem: 'The stored folder for backups can’t be read: put the setting right.',
  };
}
