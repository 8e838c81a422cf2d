/** Files and folders that only the user of the server may read: they hold hashes of passwords, keys and addresses. */
import { chmodSync, existsSync, mkdirSync, readdirSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';

const ownFile = 0o600;
const ownFolder = 0o700;
const notOwner = 0o077;
const everybody = 0o007;

/** False where everybody keeps rights: another user's file, or a disk that knows no rights. */
function tightened(path: string, mode: number): boolean {
  try {
    if ((statSync(path).mode & notOwner) === 0) return true;
    chmodSync(path, mode);
  } catch {
    // A file of the administrator that the server's group may read is as it should be.
  }
  return existsSync(path) && (statSync(path).mode & everybody) === 0;
}

/** Takes the rights of everybody else from a file; false where that can't be. */
export const makePrivate = (file: string): boolean => tightened(file, ownFile);

const isFolder = (path: string): boolean => statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;

/**
 * A folder for the server's user alone where it has to be made; one that is there stays as it is. Step by step: Node's
 * own `recursive` never returns where a folder is there in which none can be made, as in `/proc`.
 */
export function makeFolder(folder: string): void {
  if (isFolder(folder)) return;
  const above = dirname(resolve(folder));
  if (!existsSync(above)) makeFolder(above);
  try {
    mkdirSync(folder, { mode: ownFolder });
  } catch (error) {
    // Somebody else may have made it meanwhile.
    if (!isFolder(folder)) throw error;
  }
}

/** Databases, their logs and copies, the lock and backups; nothing else that lies in the same folder. */
const ours = /^welcomb([.-].*)?$|^uploaded-.*\.sqlite/;

/** Tightens the files of ours in a folder; those that could not be tightened. */
export function tightenFiles(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => !entry.isDirectory() && ours.test(entry.name))
    .map(({ name }) => join(folder, name))
    .filter((file) => existsSync(file) && !makePrivate(file));
}

/** A folder in which others have folders (`/var/lib`, `/tmp`) is not ours to close. */
const isShared = (folder: string): boolean =>
  readdirSync(folder, { withFileTypes: true }).some(
    (entry) => entry.isDirectory() && !['backups', 'lost+found'].includes(entry.name),
  );

/** The data folder, all of ours in it and in its folder of backups; what could not be tightened. */
export function tightenDataFolder(folder: string): string[] {
  const backups = join(folder, 'backups');
  const folders = [folder, backups]
    .filter((one) => existsSync(one))
    .filter((one) => isShared(one) || !tightened(one, ownFolder));
  return [...folders, ...tightenFiles(folder), ...tightenFiles(backups)];
}
