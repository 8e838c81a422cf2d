/** The store's bench at a small part of its size: it runs, measures what it says, and leaves nothing behind. */
import { readdirSync } from 'node:fs';
import { afterEach, expect, test, vi } from 'vitest';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { storeBench } from './store.ts';

// A folder for temporary files of its own: other programs on the machine may run benches too.
const folder = newFolder();
afterEach(() => {
  vi.unstubAllEnvs();
  dropFolder(folder);
});

test('the store’s bench runs small', () => {
  vi.stubEnv('TMPDIR', folder);
  const rows = storeBench(20_000);
  expect(readdirSync(folder)).toEqual([]);
  expect(rows).toHaveLength(6);
  for (const { measured } of rows) expect(Number(measured)).toBeGreaterThan(0);
  // Sizes don't depend on how busy the machine is; twice the goal, as so few readings fill their pages badly.
  const sealed = rows.find(({ what }) => what.startsWith('bytes a sealed reading'));
  expect(Number(sealed?.measured)).toBeLessThan(3);
}, 300_000);
