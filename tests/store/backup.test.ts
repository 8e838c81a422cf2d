/** Backups are whole, checked and rotated; a restore never makes things worse; the size is told. */
import { copyFileSync, existsSync, readdirSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import { listBackups } from '../../server/store/backup/backup.ts';
import { checkAside } from '../../server/store/backup/check-aside.ts';
import { check } from '../../server/store/backup/check-database.ts';
import { restore } from '../../server/store/backup/restore.ts';
import { openStore, StoreRefused, StoreUnavailable, type Store } from '../../server/store/store.ts';
import { commit, day, may1, minute, reading } from './support/made-up.ts';
import { temporaryFolder, temporaryStore } from './support/temporary-store.ts';

function fill(store: Store, from: number, count: number): void {
  commit(
    store,
    ...Array.from({ length: count }, (_, i) => reading(may1 + (from + i) * 5 * minute, (from + i) / 100)),
  );
}

// From sources, each check starts a thread that loads the compiler first.
describe('a backup', { timeout: 60_000 }, () => {
  test('holds what was committed when it began, also while readings come in', async () => {
    const store = temporaryStore();
    const folder = temporaryFolder();
    fill(store, 0, 1000);
    store.readings.seal({ endedBeforeMs: may1 + 3 * day });
    const making = store.backup(folder);
    fill(store, 1000, 50);
    const made = await making;
    expect(made.verified).toBe(true);
    expect(readdirSync(folder)).toEqual([basename(made.file)]);
    const copy = openStore({ file: made.file });
    const kept = copy.readings.series(1, 0, may1 + 100 * day);
    expect(kept.atMs.length).toBeGreaterThanOrEqual(1000);
    expect(kept.value[999]).toBe(9.99);
    copy.close();
  });

  test('is made once where it is asked for again while it is made', async () => {
    const store = temporaryStore();
    const folder = temporaryFolder();
    fill(store, 0, 100);
    const [first, ...others] = await Promise.all([1, 2, 3].map(() => store.backup(folder)));
    expect(others).toEqual([first, first]);
    expect(readdirSync(folder)).toEqual([basename(first!.file)]);
    expect((await store.backup(folder)).verified).toBe(true);
  });

  test('beside another process that writes all the time has an end: in one go it does not begin anew', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'welcomb.sqlite');
    const server = openStore({ file });
    fill(server, 0, 20_000);
    const command = openStore({ file });
    const making = command.backup(join(folder, 'backups'), { inOneGo: true });
    for (let at = 0; at < 300; at += 1) {
      fill(server, 20_000 + at, 1);
      await nextTurn();
    }
    const made = await making;
    const copy = openStore({ file: made.file });
    expect(copy.channels.get(1)?.readings).toBeLessThan(20_100);
    for (const store of [copy, command, server]) store.close();
  });

  test('made by a clock that was years ahead is neither the newest nor kept before a real one', async () => {
    let nowMs = Date.UTC(2099, 5, 1);
    const store = temporaryStore({ nowMs: () => nowMs });
    const folder = temporaryFolder();
    await store.backup(folder, { keep: 2 });
    nowMs = may1;
    const first = await store.backup(folder, { keep: 2 });
    expect(listBackups(folder, nowMs).map((file) => basename(file))).toEqual([
      'welcomb-20260501T000000Z.sqlite',
      'welcomb-20990601T000000Z.sqlite',
    ]);
    nowMs += day;
    const second = await store.backup(folder, { keep: 2 });
    expect(listBackups(folder, nowMs)).toEqual([second.file, first.file]);
    nowMs -= 3 * day;
    const third = await store.backup(folder, { keep: 1 });
    expect(listBackups(folder, nowMs)).toEqual([third.file]);
  });

  test('clears away what a power cut left of one a day ago, and nothing that is being made', async () => {
    const store = temporaryStore();
    const folder = temporaryFolder();
    const left = (name: string, ageMs: number): void => {
      const file = join(folder, name);
      writeFileSync(file, 'half a copy');
      const at = new Date(Date.now() - ageMs);
      utimesSync(file, at, at);
    };
    left('welcomb-20260501T024000Z.sqlite.unfinished', 2 * day);
    left('welcomb-20260501T024000Z.sqlite.unfinished-journal', 2 * day);
    left('welcomb-20260503T024000Z.sqlite.unfinished', minute);
    left('notes.unfinished', 2 * day);
    const { file } = await store.backup(folder);
    expect(readdirSync(folder).sort()).toEqual(
      ['notes.unfinished', 'welcomb-20260503T024000Z.sqlite.unfinished', basename(file)].sort(),
    );
  });

  test('is rotated: the newest so many stay, and nothing else is touched', async () => {
    let nowMs = may1;
    const store = temporaryStore({ nowMs: () => nowMs });
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'my notes.txt'), 'keep');
    const { file } = await store.backup(folder, { keep: 3 });
    for (const name of ['02', '03', '05'])
      copyFileSync(file, join(folder, `welcomb-202605${name}T000000Z.sqlite`));
    nowMs += 5 * day;
    await store.backup(folder, { keep: 3 });
    expect(listBackups(folder).map((file) => basename(file))).toEqual([
      'welcomb-20260506T000000Z.sqlite',
      'welcomb-20260505T000000Z.sqlite',
      'welcomb-20260503T000000Z.sqlite',
    ]);
    expect(existsSync(join(folder, 'my notes.txt'))).toBe(true);
  });

  test('is checked in a thread: what else is to be done goes on meanwhile', async () => {
    const store = temporaryStore();
    fill(store, 0, 1000);
    const { file } = await store.backup(temporaryFolder());
    let turns = 0;
    let checked = false;
    const turn = (): void => {
      turns += 1;
      if (!checked) setImmediate(turn);
    };
    setImmediate(turn);
    await checkAside(file);
    checked = true;
    // A check on this thread would let in one turn at most.
    expect(turns).toBeGreaterThan(10);
    await expect(checkAside(join(temporaryFolder(), 'nowhere'))).rejects.toThrow(/does not pass its check/);
  });

  test('to a folder that can’t be is refused with a sentence', async () => {
    const store = temporaryStore();
    const file = join(temporaryFolder(), 'a file');
    writeFileSync(file, '');
    await expect(store.backup(file)).rejects.toThrow(StoreUnavailable);
    await expect(store.backup(file)).rejects.toThrow(/The backup to .* failed/);
  });
});

describe('a restore', { timeout: 60_000 }, () => {
  test('brings the backup back and keeps what it replaces', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'welcomb.sqlite');
    const store = openStore({ file });
    fill(store, 0, 10);
    const { file: backupFile } = await store.backup(join(folder, 'backups'));
    fill(store, 10, 10);
    store.close();
    const { keptAs } = restore(backupFile, file);
    const back = openStore({ file });
    expect(back.channels.get(1)?.readings).toBe(10);
    back.close();
    const replaced = openStore({ file: keptAs! });
    expect(replaced.channels.get(1)?.readings).toBe(20);
    replaced.close();
    expect(restore(backupFile, file).keptAs).not.toBe(keptAs);
    expect(existsSync(backupFile)).toBe(true);
  });

  test('of a damaged or foreign file leaves the database as it is', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'welcomb.sqlite');
    const store = openStore({ file });
    fill(store, 0, 2000);
    store.readings.seal({ endedBeforeMs: may1 + 30 * day });
    const { file: backupFile } = await store.backup(join(folder, 'backups'));
    store.close();
    const before = readFileSync(file);
    const damaged = readFileSync(backupFile);
    damaged.fill(0, 4096 * 4, 4096 * 10);
    writeFileSync(backupFile, damaged);
    expect(() => restore(backupFile, file)).toThrow(StoreRefused);
    expect(() => check(backupFile)).toThrow(/does not pass its check/);
    writeFileSync(backupFile, 'a list of queens');
    expect(() => restore(backupFile, file)).toThrow(/does not pass its check/);
    expect(() => restore(join(folder, 'nowhere'), file)).toThrow(/does not pass its check/);
    expect(readFileSync(file).equals(before)).toBe(true);
    expect(readdirSync(folder).sort()).toEqual(['backups', 'welcomb.sqlite']);
  });
});

test('diagnostics tell readings, sizes and a forecast that fits the growth', () => {
  const nowMs = may1 + 14 * day;
  const store = temporaryStore({ nowMs: () => nowMs });
  expect(store.diagnostics()).toMatchObject({ readings: 0, bytesPerYear: null });
  fill(store, 0, 14 * 288);
  while (store.readings.seal().more);
  const found = store.diagnostics();
  expect(found).toMatchObject({ readings: 14 * 288, hotReadings: 288 });
  expect(found.fileBytes + found.logBytes).toBeGreaterThan(10_000);
  expect(found.freeBytes).toBeGreaterThan(0);
  // A channel that tells every five minutes: 105,000 readings a year of a few bytes each.
  expect(found.bytesPerYear).toBeGreaterThan(20_000);
  expect(found.bytesPerYear).toBeLessThan(400_000);
});

test('pages that deletions freed go back to the disk', async () => {
  const store = temporaryStore();
  const folder = temporaryFolder();
  for (let n = 0; n < 30; n += 1) fill(store, n * 1000, 1000);
  while (store.readings.seal({ endedBeforeMs: may1 + 1000 * day }).more);
  const before = await store.backup(join(folder, 'before'));
  store.expire({ rawBeforeMs: may1 + 100 * day, unassignedBeforeMs: may1 + 100 * day });
  store.compact();
  const after = await store.backup(join(folder, 'after'));
  expect(after.bytes).toBeLessThan(before.bytes - 20 * 4096);
});
