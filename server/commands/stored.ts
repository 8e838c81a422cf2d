/** Opening the database for a command, beside a server that runs or without one. */
import { join } from 'node:path';
import { databaseName } from '../store/file/data-folder.ts';
import { openStore, type Store } from '../store/store.ts';
import { CommandRefused, isThere, type CommandContext } from './command-line.ts';

export function databaseIn(folder: string): string {
  const file = join(folder, databaseName);
  if (!isThere(file)) {
    throw new CommandRefused(
      `There is no database in ${folder}: name the folder with --data, or start the server there once.`,
    );
  }
  return file;
}

/** `write: false` opens for reading alone, so that a look can't change anything. */
export async function withStore<T>(
  folder: string,
  { write, nowMs }: { readonly write: boolean; readonly nowMs: CommandContext['nowMs'] },
  use: (store: Store) => T | Promise<T>,
): Promise<T> {
  const file = databaseIn(folder);
  // Read first also for a write: a database of another schema is refused, not upgraded under a server that runs.
  const looked = openStore({ file, readonly: true, nowMs });
  if (!write) return await used(looked, use);
  looked.close();
  return await used(openStore({ file, nowMs }), use);
}

async function used<T>(store: Store, use: (store: Store) => T | Promise<T>): Promise<T> {
  try {
    return await use(store);
  } finally {
    store.close();
  }
}
