/** The two commands as a user starts them, against a real broker. */
import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { Aedes } from 'aedes';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const run = promisify(execFile);
const command = (file: string, args: readonly string[]) =>
  run(process.execPath, ['--import', 'tsx', join('simulator', file), ...args]);

describe('commands', () => {
  const taken: { topic: string; body: { value: number; time: string; unit: string } }[] = [];
  let url: string;
  let folder: string;
  let stop: () => Promise<void>;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'commands-'));
    const aedes = await Aedes.createBroker();
    const server = createServer(aedes.handle);
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    url = `mqtt://127.0.0.1:${String((server.address() as AddressInfo).port)}`;
    aedes.on('publish', ({ topic, payload }, client) => {
      if (client)
        taken.push({ topic, body: JSON.parse(payload.toString()) as (typeof taken)[number]['body'] });
    });
    stop = async () => {
      await new Promise<void>((resolve) => aedes.close(resolve));
      await new Promise<void>((resolve) => server.close(() => resolve()));
    };
  });
  afterAll(async () => {
    await stop();
    await rm(folder, { recursive: true });
  });

  it('replay sends a file without headings, minute of day in local time', async () => {
    const file = join(folder, 'day.csv');
    await writeFile(file, '1,17.577\n2,17.576\n3,0\n4,17.574\n');
    taken.length = 0;
    const { stdout } = await command('replay.ts', [
      file,
      '--broker',
      url,
      '--time',
      '1 minute-of-day 2018-04-07',
      '--zone',
      'Australia/Sydney',
      '--map',
      '2=hive1/weight:kg',
      '--missing',
      '0',
    ]);
    expect(stdout).toContain('3 readings acknowledged, from 2018-04-06T14:01:00.000Z');
    expect(stdout).toContain('1 missing values');
    expect(taken).toEqual([
      {
        topic: 'welcomb/hive1/weight',
        body: { value: 17.577, time: '2018-04-06T14:01:00.000Z', unit: 'kg' },
      },
      {
        topic: 'welcomb/hive1/weight',
        body: { value: 17.576, time: '2018-04-06T14:02:00.000Z', unit: 'kg' },
      },
      {
        topic: 'welcomb/hive1/weight',
        body: { value: 17.574, time: '2018-04-06T14:04:00.000Z', unit: 'kg' },
      },
    ]);
  });

  it('replay fails with one sentence and a code when nothing can be read', async () => {
    const file = join(folder, 'words.csv');
    await writeFile(file, 'time,kg\nnoon,heavy\n');
    const failed = command('replay.ts', [
      file,
      '--broker',
      url,
      '--time',
      '1 iso',
      '--map',
      '2=hive1/weight',
    ]);
    await expect(failed).rejects.toMatchObject({
      code: 1,
      stderr: expect.stringContaining('nothing was sent') as string,
    });
  });

  it('simulate sends a scenario and tells what truly happened', async () => {
    taken.length = 0;
    const args = [
      '--scenario',
      'early-queen',
      '--seed',
      '4',
      '--days',
      '4',
      '--every',
      '10',
      '--broker',
      url,
    ];
    const { stdout } = await command('simulate.ts', args);
    expect(stdout).toMatch(/messages acknowledged/);
    expect(stdout).toContain('cage-hung');
    expect(new Set(taken.map(({ topic }) => topic))).toContain('welcomb/sim-4/temperature/brood');
  });
});
