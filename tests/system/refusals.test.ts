/** A start that can't be: one sentence that names what is wrong, and exit code 2. */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { createServer, type AddressInfo, type Server } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dropFolder, newFolder } from '../support/server-process.ts';

const built = join(import.meta.dirname, '../../dist/server/main.js');
const folder = newFolder();
let taken: Server;
let takenPort: number;

beforeAll(async () => {
  taken = createServer();
  await new Promise<void>((resolve) => taken.listen(0, '127.0.0.1', resolve));
  takenPort = (taken.address() as AddressInfo).port;
});
afterAll(() => {
  taken.close();
  dropFolder(folder);
});

function start(...args: string[]) {
  const { status, stderr, stdout } = spawnSync(process.execPath, [built, ...args], {
    encoding: 'utf8',
    timeout: 15_000,
  });
  return { status, stdout, sentences: stderr.split('\n').filter((line) => line.startsWith('Welcomb can')) };
}
const data = (name: string): string => join(folder, name);
const free = ['--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0'];

describe('a start that is refused', () => {
  it('names a port of the page that is in use', () => {
    const { status, sentences } = start(
      '--data',
      data('a'),
      '--mqtt',
      '127.0.0.1:0',
      '--http',
      `127.0.0.1:${String(takenPort)}`,
    );
    expect(status).toBe(2);
    expect(sentences).toEqual([
      expect.stringMatching(new RegExp(`127.0.0.1:${String(takenPort)}.*uses it already`)) as string,
    ]);
  });

  it('names a port of the broker that is in use', () => {
    const { status, sentences } = start(
      '--data',
      data('b'),
      '--http',
      '127.0.0.1:0',
      '--mqtt',
      `127.0.0.1:${String(takenPort)}`,
    );
    expect(status).toBe(2);
    expect(sentences).toEqual([expect.stringMatching(new RegExp(`${String(takenPort)}.*in use`)) as string]);
  });

  it.each([
    ['--http', '--mqtt', 'page'],
    ['--mqtt', '--http', 'broker'],
  ])(
    'ends for %s with the code that is tried again where the network may still bring its address',
    (flag, other, what) => {
      // 192.0.2.0/24 is nobody's (RFC 5737).
      const { status, sentences } = start('--data', data(what), flag, '192.0.2.7:0', other, '127.0.0.1:0');
      expect(sentences).toEqual([
        expect.stringMatching(/192\.0\.2\.7:0: this machine has no such address/) as string,
      ]);
      expect(sentences[0]).toContain(what);
      expect(status).toBe(1);
    },
  );

  it('names an unknown setting and those that there are', () => {
    const file = data('settings.json');
    writeFileSync(file, '{"colour": "blue"}');
    const { status, sentences } = start('--data', data('c'), '--settings', file, ...free);
    expect(status).toBe(2);
    expect(sentences).toEqual([expect.stringMatching(/"colour".*known here are/) as string]);
  });

  it('names a data folder that can’t be used', () => {
    const file = data('not-a-folder');
    writeFileSync(file, 'a file');
    const { status, sentences } = start('--data', join(file, 'inside'), ...free);
    expect(status).toBe(2);
    expect(sentences).toEqual([expect.stringContaining('not-a-folder') as string]);
  });

  it.skipIf(process.platform !== 'linux')(
    'names a data folder in which none can be made, and returns',
    () => {
      const { status, sentences } = start('--data', '/proc/welcomb', ...free);
      expect(status).toBe(2);
      expect(sentences).toEqual([
        "Welcomb can't start: the data folder /proc/welcomb can't be used: there is no such file or folder; name another with --data.",
      ]);
    },
  );

  it('names a settings file that is not there, and one that is a folder', () => {
    const faults = [
      [data('none.json'), 'there is no such file or folder'],
      [folder, 'it is a folder'],
    ] as const;
    for (const [file, why] of faults) {
      const { status, sentences } = start('--data', data('d'), '--settings', file, ...free);
      expect(status).toBe(2);
      expect(sentences).toEqual([`Welcomb can't start: The settings file ${file} can't be read: ${why}.`]);
    }
  });

  it('leaves a database that is none as it is', () => {
    const store = data('foreign');
    start('--data', store, '--http', `127.0.0.1:${String(takenPort)}`, '--mqtt', '127.0.0.1:0');
    writeFileSync(join(store, 'welcomb.db'), 'this is no database, and it is somebody’s');
    const { status, sentences } = start('--data', store, ...free);
    expect(status).toBe(2);
    expect(sentences).toHaveLength(1);
  });

  it('does not let the demo into a folder that holds something else', () => {
    const own = data('own');
    start('--data', own, '--http', `127.0.0.1:${String(takenPort)}`, '--mqtt', '127.0.0.1:0');
    const { status, sentences } = start('--demo', '--data', own, ...free);
    expect(status).toBe(2);
    expect(sentences).toEqual([expect.stringContaining('folder of its own') as string]);
  });

  it('explains every setting', () => {
    const { status, stdout } = start('--help');
    expect(status).toBe(0);
    for (const flag of ['--data', '--http', '--mqtt', '--broker', '--settings', '--demo'])
      expect(stdout).toContain(flag);
  });
});
