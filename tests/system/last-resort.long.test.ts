/** An error that nothing catches: one line in the log, an end with an exit code, and a database that opens again. */
import { connectAsync } from 'mqtt';
import { expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { uncaughtErrorMessage } from '../../server/process/last-resort.ts';
import { dropFolder, newFolder, startServer } from '../support/server-process.ts';
import { until } from '../support/until.ts';

/** A module that the process loads first, and that waits for a signal to make the mistake. */
const mistakes = {
  'an exception': `process.on('SIGUSR2', () => { throw new TypeError('made for a test'); })`,
  'a rejection': `process.on('SIGUSR2', () => { void Promise.reject(new TypeError('made for a test')); })`,
  'a rejection without an error': `process.on('SIGUSR2', () => { void Promise.reject('made for a test'); })`,
};

it.each(Object.entries(mistakes))(
  '%s ends the server with a line and an exit code',
  async (_what, module) => {
    const data = newFolder();
    const mistake = `--import "data:text/javascript,${encodeURIComponent(module)}"`;
    const server = await startServer({ data, env: { NODE_OPTIONS: mistake } });
    const device = await connectAsync(server.mqtt, { reconnectPeriod: 0 });
    await device.publishAsync('welcomb/scale/weight', '12.5', { qos: 1 });
    const ended = new Promise<number | null>((resolve) => server.process.once('exit', resolve));
    server.process.kill('SIGUSR2');
    expect(await ended).toBe(1);
    await device.endAsync(true);
    const line = await until(() =>
      server
        .output()
        .split('\n')
        .find((each) => each.includes(uncaughtErrorMessage)),
    );
    expect(JSON.parse(line)).toMatchObject({ level: 60, err: { message: 'made for a test' } });

    const again = await startServer({ data });
    try {
      const { items } = await again.get<ResponseOf<'listChannels'>>('/api/v1/channels');
      expect(items.map(({ sensor, readings }) => [sensor, readings])).toEqual([['scale', 1]]);
    } finally {
      await again.stop();
      dropFolder(data);
    }
  },
);
