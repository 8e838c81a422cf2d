/** Entries that are written and not yet known to be stored by the server, in the browser's own database. */
import type { Unsent } from './unsent.ts';

const databaseName = 'welcomb-visits';
const storeName = 'unsent';

function opened(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(databaseName, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(storeName, { keyPath: 'entry.id' });
    };
    request.onsuccess = () => {
      resolve(request.result);
    };
    request.onerror = () => {
      reject(
        new Error(
          'This browser does not let the page keep visits; leave private browsing, or wait for signal.',
        ),
      );
    };
  });
}

/** Runs requests in one transaction and waits for it: what is resolved, with the result of the last, is on the disk. */
async function run<T>(
  mode: IDBTransactionMode,
  ask: (store: IDBObjectStore) => readonly IDBRequest<T>[],
): Promise<T | undefined> {
  const database = await opened();
  try {
    return await new Promise((resolve, reject) => {
      const transaction = database.transaction(storeName, mode, { durability: 'strict' });
      const requests = ask(transaction.objectStore(storeName));
      transaction.oncomplete = () => {
        resolve(requests.at(-1)?.result);
      };
      transaction.onabort = () => {
        reject(
          new Error(
            `The visit could not be kept on this device: ${transaction.error?.message ?? 'no reason given'}`,
          ),
        );
      };
    });
  } finally {
    database.close();
  }
}

/** All of them or none: what is kept in part would be kept twice when it is tried again. */
export const putUnsent = (all: readonly Unsent[]): Promise<unknown> =>
  run('readwrite', (store) => all.map((one) => store.put(one)));
export const dropUnsent = (ids: readonly string[]): Promise<unknown> =>
  run('readwrite', (store) => ids.map((id) => store.delete(id)));
/** In the order of writing. */
export async function allUnsent(): Promise<readonly Unsent[]> {
  const all = (await run('readonly', (store) => [store.getAll()])) as Unsent[];
  return all.sort((a, b) => a.entry.writtenAtMs - b.entry.writtenAtMs);
}
