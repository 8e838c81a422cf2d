/** The disk is full, read-only, or somebody else holds the database: one sentence, nothing half-written, recovery. */
import { readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { restore } from '../../server/store/backup/restore.ts';
import { migrations } from '../../server/store/migrate.ts';
import { openDatabase } from '../../server/store/file/open-database.ts';
import { openStore, StoreUnavailable, type Store } from '../../server/store/store.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';
import { compareNumbered, numberedBatch, numberedFromMs } from './store-support/numbered.ts';
import { runChild } from './store-support/run-child.ts';
import { makeReadOnly, noMount, smallDisk } from './store-support/small-disk.ts';

const commit = (store: Store, from: number): number =>
  store.ingest.commit({ readings: numberedBatch(from, 100), quarantined: [], lastKnown: [] }).stored.length;

function failureOf(work: () => unknown): StoreUnavailable {
  try {
    work();
  } catch (error) {
    if (error instanceof StoreUnavailable) return error;
    throw error;
  }
  throw new Error('it did not fail');
}

describe('a data folder that is moved or deleted while the server runs', () => {
  test('takes nothing that would be gone with it, and goes on where it is back', () => {
    const folder = join(temporaryFolder(), 'data');
    const store = openStore({ file: join(folder, 'welcomb.db') });
    expect(commit(store, 0)).toBe(100);
    renameSync(folder, `${folder}-moved`);
    for (const refused of [() => commit(store, 100), () => store.diagnostics()]) {
      expect(failureOf(refused).message).toBe(
        `${join(folder, 'welcomb.db')} was moved or deleted while the server runs: bring it back, or start the server anew.`,
      );
    }
    renameSync(`${folder}-moved`, folder);
    expect(commit(store, 100)).toBe(100);
    store.close();
    const again = openStore({ file: join(folder, 'welcomb.db') });
    expect(compareNumbered(again)).toEqual({ count: 200, wrong: [] });
    again.close();
  });
});

describe('a backup for which there is no room', () => {
  test('is refused before it begins: it takes no room from the readings', async (context) => {
    const folder = smallDisk(16_000);
    if (folder === undefined) return context.skip(noMount);
    const store = openStore({ file: join(folder, 'welcomb.sqlite') });
    for (let from = 0; from < 20_000; from += 100) commit(store, from);
    const { freeBytes } = store.diagnostics();
    writeFileSync(join(folder, 'ballast'), Buffer.alloc((freeBytes ?? 0) - 300_000));
    let refused: unknown;
    const making = store.backup(join(folder, 'backups')).catch((error: unknown) => {
      refused = error;
    });
    for (let from = 20_000; refused === undefined; from += 1) {
      store.ingest.commit({ readings: numberedBatch(from, 1), quarantined: [], lastKnown: [] });
      await new Promise(setImmediate);
    }
    await making;
    expect(refused).toBeInstanceOf(StoreUnavailable);
    expect((refused as StoreUnavailable).message).toMatch(
      /^The backup to .*backups needs \d+\.\d MB and there are 0\.\d MB: free some space, or name another folder\.$/,
    );
    store.close();
  });
});

test('a backup that can’t be brought back for want of room is refused in words, and leaves nothing behind', (context) => {
  const folder = smallDisk(200);
  if (folder === undefined) return context.skip(noMount);
  const backup = join(temporaryFolder(), 'backup.sqlite');
  openStore({ file: backup }).close();
  const file = join(folder, 'welcomb.db');
  expect(failureOf(() => restore(backup, file)).message).toBe(
    `The backup can't be copied beside ${file}: its disk is full. Nothing was changed.`,
  );
  expect(readdirSync(folder)).toEqual([]);
});

describe('a full disk', () => {
  test('refuses the batch whole and goes on by itself once there is room', (context) => {
    const folder = smallDisk(3000);
    if (folder === undefined) return context.skip(noMount);
    const file = join(folder, 'welcomb.sqlite');
    const ballast = join(folder, 'ballast');
    const store = openStore({ file });
    writeFileSync(ballast, Buffer.alloc(2_000_000));
    let stored = 0;
    const failure = failureOf(() => {
      for (; stored < 100_000; stored += 100) commit(store, stored);
    });
    expect(failure.kind).toBe('disk-full');
    expect(failure.message).toMatch(/is full: free some space/);
    expect(stored).toBeGreaterThan(0);
    expect(compareNumbered(store)).toEqual({ count: stored, wrong: [] });
    expect(failureOf(() => commit(store, stored)).kind).toBe('disk-full');

    rmSync(ballast);
    expect(commit(store, stored)).toBe(100);
    store.close();
    const again = openStore({ file });
    expect(compareNumbered(again)).toEqual({ count: stored + 100, wrong: [] });
    again.close();
  });

  test('leaves a day unsealed rather than half sealed', (context) => {
    const folder = smallDisk(3000);
    if (folder === undefined) return context.skip(noMount);
    const store = openStore({ file: join(folder, 'welcomb.sqlite') });
    for (let k = 0; k < 3000; k += 100) commit(store, k);
    const ballast = join(folder, 'ballast');
    fillUp(ballast);
    const seal = () => store.readings.seal({ endedBeforeMs: numberedFromMs + 7 * 86_400_000 });
    expect(failureOf(seal).kind).toBe('disk-full');
    expect(compareNumbered(store)).toEqual({ count: 3000, wrong: [] });
    rmSync(ballast);
    expect(seal().readings).toBe(3000);
    expect(compareNumbered(store)).toEqual({ count: 3000, wrong: [] });
    store.close();
  });
});

/** Takes all the room that is left. */
function fillUp(file: string): void {
  for (let bytes = 4_000_000; bytes >= 4096; bytes /= 2) {
    try {
      writeFileSync(file, Buffer.alloc(bytes), { flag: 'a' });
    } catch {
      // Full for a piece of this size.
    }
  }
}

test('an upgrade without room for its backup is refused before it begins', (context) => {
  const folder = smallDisk(1500);
  if (folder === undefined) return context.skip(noMount);
  const file = join(folder, 'welcomb.sqlite');
  const store = openStore({ file });
  commit(store, 0);
  store.close();
  writeFileSync(join(folder, 'ballast'), Buffer.alloc(1_000_000));
  const next = { version: migrations.length + 1, note: 'More.', sql: 'CREATE TABLE more (id INTEGER)' };
  expect(() => openDatabase(file, false, [...migrations, next])).toThrow(
    /needs [\d.]+ MB free for a backup first and there are [\d.]+ MB: .*nothing was changed/,
  );
  const again = openStore({ file });
  expect(compareNumbered(again)).toEqual({ count: 100, wrong: [] });
  again.close();
});

test('a read-only disk is told at the start in one sentence', (context) => {
  const folder = smallDisk(3000);
  if (folder === undefined) return context.skip(noMount);
  const file = join(folder, 'welcomb.sqlite');
  openStore({ file }).close();
  makeReadOnly(folder);
  const failure = failureOf(() => openStore({ file }));
  expect(failure.kind).toBe('read-only');
  expect(failure.message).toMatch(/can't be (written|opened)/);
  const missing = failureOf(() => openStore({ file: join(folder, 'other', 'new.sqlite') }));
  expect(missing.kind).toBe('read-only');
});

test('a lock held by another program refuses the batch and lets it through afterwards', async () => {
  const file = join(temporaryFolder(), 'welcomb.sqlite');
  const store = openStore({ file });
  commit(store, 0);
  const holder = runChild(file, 'hold');
  await holder.firstLine();
  const failure = failureOf(() => commit(store, 100));
  expect(failure.kind).toBe('locked');
  expect(compareNumbered(store)).toEqual({ count: 100, wrong: [] });
  holder.process.kill('SIGKILL');
  await holder.ended;
  expect(commit(store, 100)).toBe(100);
  expect(compareNumbered(store)).toEqual({ count: 200, wrong: [] });
  store.close();
}, 60_000);
