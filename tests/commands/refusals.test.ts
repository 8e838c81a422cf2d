/** A refusal names what was given, leaves nothing behind, and is never a stack trace. */
import { spawn } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';
import { builtCommand, welcomb } from '../support/command.ts';

describe('restore', () => {
  test('says that there is no backup to list', async () => {
    const cwd = temporaryFolder();
    expect(await welcomb(['restore', '--list', '--data', 'empty'], { cwd })).toEqual({
      code: 0,
      out: 'There is no backup in empty/backups; --from names another folder.\n',
      err: '',
    });
  });

  test('says of a folder of backups that is a file why none is listed', async () => {
    const cwd = temporaryFolder();
    writeFileSync(join(cwd, 'notes.txt'), 'no folder');
    expect(await welcomb(['restore', '--list', '--from', 'notes.txt'], { cwd })).toEqual({
      code: 2,
      out: '',
      err: 'Backups in notes.txt can’t be listed: a part of its path is a file. Name another folder.\n',
    });
  });

  test('names the file as it was given, and makes no folder for one that it refuses', async () => {
    const cwd = temporaryFolder();
    writeFileSync(join(cwd, 'notes.txt'), 'not a database');
    const refused = await welcomb(['restore', 'notes.txt', '--data', 'new'], { cwd });
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.err).toMatch(/^notes\.txt does not pass its check/);
    expect(existsSync(join(cwd, 'new'))).toBe(false);
    const missing = await welcomb(['restore', 'none.db', '--data', 'new'], { cwd });
    expect(missing).toEqual({ code: 2, out: '', err: 'There is no backup none.db.\n' });
  });
});

test('check says that the file is not there, not that it is damaged', async () => {
  expect(await welcomb(['check', 'none.db'], { cwd: temporaryFolder() })).toEqual({
    code: 2,
    out: '',
    err: 'There is no file none.db to check.\n',
  });
});

test('check of a folder says that it is one, not that a database is damaged', async () => {
  const cwd = temporaryFolder();
  expect(await welcomb(['check', '.'], { cwd })).toEqual({
    code: 2,
    out: '',
    err: '. is a folder: name a backup in it, or check its database with --data.\n',
  });
});

test('a backup to where no folder can be made is refused in words', async () => {
  const cwd = temporaryFolder();
  openStore({ file: join(cwd, 'welcomb-data', 'welcomb.db') }).close();
  writeFileSync(join(cwd, 'notes.txt'), 'no folder');
  expect(await welcomb(['backup', '--to', 'notes.txt'], { cwd })).toEqual({
    code: 2,
    out: '',
    err: 'The backup to notes.txt failed: a file stands in its place. Name another folder.\n',
  });
});

test('a reader that closes the pipe early ends the command without a stack trace', async () => {
  const child = spawn(process.execPath, [builtCommand, 'replay', '--rules']);
  child.stdout.destroy();
  let err = '';
  child.stderr.on('data', (some: Buffer) => (err += some.toString()));
  const code = await new Promise((ended) => child.on('close', ended));
  expect({ code, err }).toEqual({ code: 0, err: '' });
});

test('check says of a folder for backups that is a file why none is listed', async () => {
  const cwd = temporaryFolder();
  const store = openStore({ file: join(cwd, 'welcomb-data', 'welcomb.db') });
  store.settings.put('farm', { backupFolder: join(cwd, 'notes.txt') }, { by: 'test' });
  store.close();
  writeFileSync(join(cwd, 'notes.txt'), 'no folder');
  const { out, err } = await welcomb(['check'], { cwd });
  expect(err).toBe('');
  expect(out).toMatch(/Backups in .*notes\.txt can’t be listed: a part of its path is a file\./);
});

describe('replay of a farm without a nuc', () => {
  const farm = (): string => {
    const cwd = temporaryFolder();
    openStore({ file: join(cwd, 'welcomb-data', 'welcomb.db') }).close();
    return cwd;
  };

  test('says so, and is no line where lines of JSON are asked for', async () => {
    const cwd = farm();
    const span = ['--from', '2031-05-01', '--to', '2031-05-02'];
    expect(await welcomb(['replay', ...span], { cwd })).toEqual({
      code: 0,
      out: 'There is no nuc to replay yet.\n',
      err: '',
    });
    const { code, out } = await welcomb(['replay', ...span, '--json'], { cwd });
    expect([code, out]).toEqual([0, '']);
  });

  test.each([
    [['--from', '2031-05-01T25:00'], /^--from is "2031-05-01T25:00": expected a day/],
    [['--from', '2031-05-02', '--to', '2031-05-01'], /^The span ends at .*, before it begins/],
  ])('refuses %j all the same', async (args, reason) => {
    const { code, err } = await welcomb(['replay', ...args], { cwd: farm() });
    expect(code).toBe(2);
    expect(err).toMatch(reason);
  });
});

test('user list takes no name, rather than leaving it out of account', async () => {
  const cwd = temporaryFolder();
  openStore({ file: join(cwd, 'welcomb-data', 'welcomb.db') }).close();
  expect(await welcomb(['user', 'list', 'Ann'], { cwd })).toEqual({
    code: 2,
    out: '',
    err: '"Ann" is one word too many; put a name with spaces in quotes.\n',
  });
});
