/** The power goes between any two steps of a restore: the next start has either database whole, never an empty one. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { pino } from 'pino';
import { afterEach, expect, test, vi } from 'vitest';
import { openDataFolder } from '../../server/open-folder.ts';
import { restore } from '../../server/store/backup/restore.ts';
import { openStore } from '../../server/store/store.ts';
import { commit, may1, minute, reading } from '../store/support/made-up.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';

/** Renames that are still done before the power goes; undefined: all. */
let stepsLeft: number | undefined;
vi.mock(import('node:fs'), async (original) => {
  const real = await original();
  return {
    ...real,
    renameSync: (from, to) => {
      if (stepsLeft === 0) throw new Error('the power went');
      if (stepsLeft !== undefined) stepsLeft -= 1;
      real.renameSync(from, to);
    },
  };
});
afterEach(() => {
  stepsLeft = undefined;
});

const log = pino({ level: 'silent' });
const readingsIn = (file: string): number | undefined => {
  const store = openStore({ file });
  const readings = store.channels.get(1)?.readings;
  store.close();
  return readings;
};

/** A backup of one reading, and a database of two whose log was left beside it by a server that was killed. */
async function backupAndDatabase() {
  const folder = temporaryFolder();
  const file = join(folder, 'welcomb.db');
  const store = openStore({ file });
  commit(store, reading(may1, 1));
  const { file: backup } = await store.backup(join(folder, 'backups'));
  commit(store, reading(may1 + minute, 2));
  const killed = ['', '-wal'].map((end) => [file + end, fs.readFileSync(file + end)] as const);
  store.close();
  for (const [name, content] of killed) fs.writeFileSync(name, content);
  return { folder, file, backup };
}

test(
  'a restore that is cut off anywhere is finished by the next start, or did not begin',
  { timeout: 60_000 },
  async () => {
    let cutOff = 0;
    for (let steps = 0; ; steps += 1) {
      const { folder, file, backup } = await backupAndDatabase();
      stepsLeft = steps;
      let done = true;
      try {
        restore(backup, file);
      } catch {
        done = false;
      }
      stepsLeft = undefined;
      openDataFolder(folder, Date.now, log).close();
      const replaced = `${file}.replaced`;
      if (fs.existsSync(replaced))
        expect([readingsIn(file), readingsIn(replaced)], `after ${String(steps)}`).toEqual([1, 2]);
      else expect(readingsIn(file), `after ${String(steps)}`).toBe(2);
      expect(fs.readdirSync(folder).filter((name) => /restoring|-wal$/.test(name))).toEqual([]);
      if (done) break;
      cutOff += 1;
    }
    expect(cutOff).toBeGreaterThan(2);
  },
);
