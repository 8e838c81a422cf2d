/** What this user may not read is not told to be missing, nor to be damaged: nobody restores a backup over it. */
import { chmodSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';
import { welcomb } from '../support/command.ts';

const noRight = 'this user has no right to it. Run the command as the user of the server.\n';
const closed: string[] = [];
afterEach(() => {
  for (const path of closed.splice(0)) chmodSync(path, 0o700);
});
function close(path: string): string {
  chmodSync(path, 0o000);
  closed.push(path);
  return path;
}

/** Of a server that another user runs. */
function folderOfAnother(): string {
  const folder = join(temporaryFolder(), 'data');
  openStore({ file: join(folder, 'welcomb.db') }).close();
  mkdirSync(join(folder, 'backups'));
  return close(folder);
}

test.each([
  [['check'], 'welcomb.db'],
  [['backup'], 'welcomb.db'],
  [['user', 'list'], 'welcomb.db'],
  [['replay', '--from', '2031-05-01'], 'welcomb.db'],
  [['restore', '--list'], 'backups'],
  [['restore', 'newest'], 'backups'],
])('%j in the data folder of another user', async (args, what) => {
  const folder = folderOfAnother();
  expect(await welcomb([...args, '--data', folder], { withoutRights: true })).toEqual({
    code: 2,
    out: '',
    err: `${join(folder, what)} can't be read: ${noRight}`,
  });
});

test.each([[['check']], [['restore']], [['advise']]])('%j of a file of another user', async ([name]) => {
  const folder = temporaryFolder();
  chmodSync(folder, 0o755);
  const file = join(folder, 'a file.sqlite');
  writeFileSync(file, '');
  close(file);
  expect(
    await welcomb([name ?? '', file, '--data', folder].slice(0, name === 'advise' ? 2 : 4), {
      withoutRights: true,
    }),
  ).toEqual({
    code: 2,
    out: '',
    err: `${file} can't be read: ${noRight}`,
  });
});

test('links that lead in a circle are told as that', async () => {
  const folder = temporaryFolder();
  symlinkSync('welcomb.db', join(folder, 'welcomb.db'));
  expect(await welcomb(['check', '--data', folder])).toEqual({
    code: 2,
    out: '',
    err: `${join(folder, 'welcomb.db')} can't be read: its links lead in a circle.\n`,
  });
});
