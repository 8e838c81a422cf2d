/** A server that starts while its database is being checked: what it has written is not taken away from under it. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test, vi } from 'vitest';
import { check } from '../../server/store/backup/check-database.ts';
import { lockFolder } from '../../server/store/file/data-folder.ts';
import { openStore } from '../../server/store/store.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';

let meanwhile: (() => void) | undefined;
vi.mock(import('../../server/store/backup/check-rows.ts'), async (original) => {
  const { checkRows } = await original();
  return {
    checkRows: (db) => {
      meanwhile?.();
      checkRows(db);
    },
  };
});
afterEach(() => {
  meanwhile = undefined;
});

function databaseOfStoppedServer(): { folder: string; file: string } {
  const folder = temporaryFolder();
  const file = join(folder, 'welcomb.db');
  const lock = lockFolder(folder);
  openStore({ file }).close();
  lock.release();
  return { folder, file };
}

test('the log of a server that started meanwhile stays', () => {
  const { folder, file } = databaseOfStoppedServer();
  let stop = (): void => undefined;
  meanwhile = () => {
    const lock = lockFolder(folder);
    const store = openStore({ file });
    store.marks.set('written meanwhile', 1);
    stop = () => {
      store.close();
      lock.release();
    };
  };
  check(file);
  expect(existsSync(`${file}-wal`)).toBe(true);
  // Another command, as the keeper runs it.
  const reader = openStore({ file, readonly: true });
  expect(reader.marks.get('written meanwhile')).toBe(1);
  reader.close();
  stop();
});

test('without a server nothing is left behind', () => {
  const { folder, file } = databaseOfStoppedServer();
  check(file);
  expect(['-wal', '-shm'].filter((end) => existsSync(file + end))).toEqual([]);
  lockFolder(folder).release();
});
