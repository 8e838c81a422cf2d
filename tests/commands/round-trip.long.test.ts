/** Backup, damage, restore by the built command: the readings afterwards are those from before. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, expect, test } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { commit, columns, day, may1, minute, reading } from '../store/support/made-up.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';
import { welcomb } from '../support/command.ts';
import { startServer, type RunningServer } from '../support/server-process.ts';

const running: RunningServer[] = [];
afterEach(async () => {
  for (const server of running.splice(0)) await server.stop();
});

function filled(folder: string, count: number): void {
  const store = openStore({ file: join(folder, 'welcomb.db') });
  commit(store, ...Array.from({ length: count }, (_, i) => reading(may1 + i * 5 * minute, Math.sin(i) * 20)));
  while (store.readings.seal({ endedBeforeMs: may1 + 30 * day }).more);
  store.close();
}

function series(folder: string): number[][] {
  const store = openStore({ file: join(folder, 'welcomb.db'), readonly: true });
  const { atMs, value } = store.readings.series(1, 0, may1 + 100 * day);
  store.close();
  return columns(atMs, value);
}

test('a backup brings back, after damage, exactly the readings of before, and what it replaces is kept', async () => {
  const folder = temporaryFolder();
  const file = join(folder, 'welcomb.db');
  filled(folder, 3000);
  const before = series(folder);
  expect(before[0]).toHaveLength(3000);
  const made = await welcomb(['backup', '--data', folder]);
  expect(made).toMatchObject({ code: 0, err: '' });
  expect(await welcomb(['check', '--data', folder])).toMatchObject({
    code: 0,
    out: expect.stringContaining('3000 readings') as string,
  });

  const damaged = readFileSync(file);
  damaged.fill(0xa5, 4096 * 3, 4096 * 12);
  writeFileSync(file, damaged);
  const looked = await welcomb(['check', '--data', folder]);
  expect(looked).toMatchObject({
    code: 1,
    out: expect.stringContaining('does not pass its check') as string,
  });

  const back = await welcomb(['restore', 'newest', '--data', folder]);
  expect(back).toMatchObject({ code: 0, err: '' });
  expect(back.out).toContain('It holds 3000 readings');
  expect(series(folder)).toEqual(before);
  expect(readFileSync(`${file}.replaced`).equals(damaged)).toBe(true);
  expect((await welcomb(['check', '--data', folder])).code).toBe(0);
}, 60_000);

test('a restore is refused while a server runs there, and possible once it was killed', async () => {
  const folder = temporaryFolder();
  const server = await startServer({ data: folder });
  running.push(server);
  const made = await welcomb(['backup', '--data', folder]);
  expect(made.code).toBe(0);
  const refused = await welcomb(['restore', 'newest', '--data', folder]);
  expect(refused.code).toBe(2);
  expect(refused.err).toContain(`The folder ${folder} is in use by a server that runs: stop it first`);
  expect(existsSync(join(folder, 'welcomb.db.replaced'))).toBe(false);
  expect((await welcomb(['check', '--data', folder])).out).toContain('A server runs on this folder.');
  const second = await welcomb(['start', '--data', folder, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0']);
  expect(second.code).toBe(2);
  expect(second.err).toMatch(/^Welcomb can't start: The folder .* is in use/);
  await server.kill();
  running.length = 0;
  expect((await welcomb(['restore', 'newest', '--data', folder])).code).toBe(0);
}, 60_000);

test.each([
  ['damaged', /does not pass its check: .* Nothing was changed/s],
  ['foreign', /is not a database of this program/],
  ['newer', /was written by a newer version of this program/],
  ['absent', /There is no backup/],
])('a %s backup is refused, and the database is as it was', async (kind, sentence) => {
  const folder = temporaryFolder();
  filled(folder, 500);
  const before = readFileSync(join(folder, 'welcomb.db'));
  const other = join(folder, 'other.sqlite');
  if (kind === 'damaged') writeFileSync(other, Buffer.from(before).fill(0, 4096, 8192));
  else if (kind !== 'absent') {
    if (kind === 'newer') writeFileSync(other, before);
    const db = new Database(other);
    if (kind === 'newer') db.pragma('user_version = 999');
    else db.exec('CREATE TABLE song (name TEXT)');
    db.close();
  }
  const found = existsSync(other) ? readFileSync(other) : null;
  const refused = await welcomb(['restore', other, '--data', folder]);
  expect(refused.code).toBe(2);
  expect(refused.err).toMatch(sentence);
  expect(readFileSync(join(folder, 'welcomb.db')).equals(before)).toBe(true);
  expect(existsSync(join(folder, 'welcomb.db.incoming'))).toBe(false);
  if (found) expect(readFileSync(other).equals(found)).toBe(true);
});
