/** A disk that can't say how large it is, as some network folders, is not taken for a full one. */
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { openDatabase } from '../../server/store/file/open-database.ts';
import { migrations } from '../../server/store/migrate.ts';
import { diskFacts } from '../../server/service/disk-facts.ts';
import { openStore } from '../../server/store/store.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';

vi.mock(import('node:fs'), async (original) => {
  const real = await original();
  return {
    ...real,
    statfsSync: ((...args: Parameters<typeof real.statfsSync>) => ({
      ...real.statfsSync(...args),
      blocks: 0,
      bavail: 0,
    })) as typeof real.statfsSync,
  };
});

test('a database there is upgraded, backed up, and raises no alert of a full disk', async () => {
  const folder = temporaryFolder();
  const file = join(folder, 'welcomb.db');
  openDatabase(file, false, migrations.slice(0, -1)).db.close();
  const store = openStore({ file });
  expect(store.migrated.to).toBe(migrations.length);
  expect(store.diagnostics().freeBytes).toBeNull();
  expect(diskFacts(store, { storeRefusingSinceMs: null, storeRefusingWhy: null })).toBeNull();
  // A store that refuses is still told of.
  expect(diskFacts(store, { storeRefusingSinceMs: 1, storeRefusingWhy: 'locked' })?.refusingSinceMs).toBe(1);
  expect((await store.backup(join(folder, 'backups'))).verified).toBe(true);
  store.close();
}, 60_000);
