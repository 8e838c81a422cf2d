/** What holds passwords' hashes, keys and addresses can be read by the server's own user alone: real files, real rights. */
import { chmodSync, existsSync, mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { makeFolder, makePrivate, tightenDataFolder } from '../../server/store/file/private-files.ts';
import { restore } from '../../server/store/backup/restore.ts';
import { openStore } from '../../server/store/store.ts';
import { openDatabase } from '../../server/store/file/open-database.ts';
import { migrations } from '../../server/store/migrate.ts';
import { temporaryFolder } from './support/temporary-store.ts';

const rights = (path: string): string => (statSync(path).mode & 0o777).toString(8);
const rightsIn = (folder: string): Record<string, string> =>
  Object.fromEntries(readdirSync(folder).map((name) => [name, rights(join(folder, name))]));

// The usual mask of a system, under which a file can be read by everybody: the tests' own process runs with it.
describe.skipIf(process.platform === 'win32')('files are private', () => {
  test('a new database, its log and a backup of it', { timeout: 60_000 }, async () => {
    const folder = join(temporaryFolder(), 'data');
    const store = openStore({ file: join(folder, 'welcomb.db') });
    store.settings.put('farm', { farmName: 'Hillside' }, { by: 'Rowan' });
    expect(rights(folder)).toBe('700');
    expect(rightsIn(folder)).toEqual({
      'welcomb.db': '600',
      'welcomb.db-shm': '600',
      'welcomb.db-wal': '600',
    });
    const { file } = await store.backup(join(folder, 'backups'));
    expect([rights(join(folder, 'backups')), rights(file)]).toEqual(['700', '600']);
    store.close();
  });

  test('a backup that everybody could read is restored to a database that nobody else can', () => {
    const folder = temporaryFolder();
    const from = join(folder, 'from', 'welcomb.db');
    openStore({ file: from }).close();
    chmodSync(from, 0o644);
    const to = join(folder, 'to', 'welcomb.db');
    openStore({ file: to }).close();
    restore(from, to);
    expect(rights(to)).toBe('600');
  });

  test('the copy before an upgrade', () => {
    const file = join(temporaryFolder(), 'welcomb.db');
    openDatabase(file, false, migrations.slice(0, 1)).db.close();
    chmodSync(file, 0o644);
    const { db, migrated } = openDatabase(file, false);
    db.close();
    expect(rights(migrated.backupFile ?? '')).toBe('600');
    expect(rights(file)).toBe('600');
  });

  test('at a start what was there before is tightened, and nothing of anybody else', () => {
    const folder = temporaryFolder();
    const backups = join(folder, 'backups');
    mkdirSync(backups);
    const ours = [
      'welcomb.db',
      'welcomb.db-wal',
      'welcomb.db.before-schema-2',
      'welcomb.db.replaced',
      'welcomb.lock',
    ];
    for (const name of [...ours, 'notes.txt']) writeFileSync(join(folder, name), '');
    writeFileSync(join(backups, 'welcomb-20310510T000000Z.sqlite'), '');
    for (const path of [folder, backups]) chmodSync(path, 0o755);
    for (const name of readdirSync(folder)) if (name !== 'backups') chmodSync(join(folder, name), 0o644);
    chmodSync(join(backups, 'welcomb-20310510T000000Z.sqlite'), 0o644);
    expect(tightenDataFolder(folder)).toEqual([]);
    expect(rights(folder)).toBe('700');
    expect(rightsIn(folder)).toEqual({
      ...Object.fromEntries(ours.map((name) => [name, '600'])),
      backups: '700',
      'notes.txt': '644',
    });
    expect(rightsIn(backups)).toEqual({ 'welcomb-20310510T000000Z.sqlite': '600' });
  });

  test('a folder in which others have theirs stays open, is named, and our files in it are closed', () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'somebody'));
    writeFileSync(join(folder, 'welcomb.db'), '');
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'welcomb.db'), 0o644);
    expect(tightenDataFolder(folder)).toEqual([folder]);
    expect([rights(folder), rights(join(folder, 'welcomb.db'))]).toEqual(['755', '600']);
  });

  test('a file that is not there is said not to be private, and is not made', () => {
    const file = join(temporaryFolder(), 'none');
    expect(makePrivate(file)).toBe(false);
    expect(existsSync(file)).toBe(false);
  });

  test('a folder that is there keeps its rights', () => {
    const folder = temporaryFolder();
    chmodSync(folder, 0o750);
    makeFolder(folder);
    expect(rights(folder)).toBe('750');
  });
});
