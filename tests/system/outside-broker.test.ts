/** The whole path through Mosquitto: what was published while the server was away is there when it is back. */
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { startMosquitto, type RunningMosquitto } from '../ingest/support/mosquitto.ts';
import { missing, mosquitto } from '../support/programs.ts';
import { dropFolder, newFolder, startServer } from '../support/server-process.ts';
import { until } from '../support/until.ts';

describe.skipIf(missing('Mosquitto', mosquitto))('with a broker of the keeper’s own', () => {
  const data = newFolder();
  let broker: RunningMosquitto;
  beforeAll(async () => {
    broker = await startMosquitto();
  });
  afterAll(async () => {
    await broker.remove();
    dropFolder(data);
  });

  it('stores what came, and what came while it was away', async () => {
    const readings = async (server: { get<T>(path: string): Promise<T> }) => {
      const { items } = await server.get<ResponseOf<'listChannels'>>('/api/v1/channels');
      return items.find(({ sensor }) => sensor === 'scale-9')?.readings ?? 0;
    };
    const args = ['--broker', broker.url];
    const first = await startServer({ data, args });
    const status = await until(async () => {
      const found = await first.get<ResponseOf<'status'>>('/api/v1/status');
      return found.broker.connected ? found : undefined;
    });
    expect(status.broker.kind).toBe('outside');
    const device = await connectAsync(broker.url);
    const publish = (i: number) =>
      device.publishAsync(
        'welcomb/scale-9/weight',
        JSON.stringify({ value: 12 + i / 1000, time: 1_780_000_000 + i }),
        { qos: 1 },
      );
    for (let i = 0; i < 20; i += 1) await publish(i);
    await until(async () => ((await readings(first)) === 20 ? true : undefined));
    await first.kill();
    for (let i = 20; i < 40; i += 1) await publish(i);
    await device.endAsync();
    const second = await startServer({ data, args });
    try {
      await until(async () => ((await readings(second)) === 40 ? true : undefined));
    } finally {
      await second.stop();
    }
  });
});
