/** A store in a folder of its own that is removed afterwards. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { openStore, type Store, type StoreOptions } from '../../../server/store/store.ts';

export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-store-'));
  onTestFinished(() => {
    rmSync(folder, { recursive: true, force: true });
  });
  return folder;
}

export function temporaryStore(options: Partial<StoreOptions> = {}): Store {
  const store = openStore({ file: join(temporaryFolder(), 'welcomb.sqlite'), ...options });
  onTestFinished(() => {
    store.close();
  });
  return store;
}
