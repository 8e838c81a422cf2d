/** An outside broker that turns against the server, by an access list with a gap or by closing every connection. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import type { ResponseOf } from '../../../server/contract/index.ts';
import { startClosingBroker } from '../../ingest/support/closing-broker.ts';
import { startMosquitto } from '../../ingest/support/mosquitto.ts';
import { mosquitto } from '../../support/programs.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../../support/server-process.ts';
import { until } from '../../support/until.ts';
import type { Attack, Outcome } from '../attack.ts';

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const lengthMs = { small: 8000, full: 50_000 } as const;
const sensor = 'scale-7';
const topic = `welcomb/${sensor}/weight`;

async function stored(server: RunningServer): Promise<number> {
  const { items } = await server.get<ResponseOf<'listChannels'>>('/api/v1/channels');
  return items.find((channel) => channel.sensor === sensor)?.readings ?? 0;
}

async function withServer<T>(
  data: string,
  url: string,
  use: (server: RunningServer) => Promise<T>,
): Promise<T> {
  const server = await startServer({ data, args: ['--broker', url] });
  try {
    return await use(server);
  } finally {
    await server.stop();
  }
}

/**
 * The access list lets the server read everything and write nothing of its own. Mosquitto closes the connection right
 * after its refusal; where its reset overtakes the refusal, only the second end shows which topic is meant.
 */
async function refusedPublish(size: 'small' | 'full'): Promise<Outcome> {
  if (mosquitto === undefined) return { held: true, seen: 'left out: Mosquitto is not installed' };
  const folder = newFolder();
  const data = newFolder();
  const acl = join(folder, 'acl');
  const log = join(folder, 'log');
  writeFileSync(acl, `topic read welcomb/#\ntopic write ${topic}\n`, { mode: 0o600 });
  const broker = await startMosquitto(true, [`acl_file ${acl}`, `log_dest file ${log}`, 'log_type notice']);
  const connections = (): number => readFileSync(log, 'utf8').split('as welcomb (').length - 1;
  try {
    await withServer(data, broker.url, () => until(() => (connections() > 0 ? true : undefined), 10_000));
    const scale = await connectAsync(broker.url, { protocolVersion: 4 });
    await scale.publishAsync(topic, '12.5', { qos: 1 });
    await scale.endAsync();
    const before = connections();
    return await withServer(data, broker.url, async (server) => {
      await until(async () => ((await stored(server)) > 0 ? true : undefined));
      await pause(lengthMs[size]);
      const readings = await stored(server);
      const made = connections() - before;
      const seen = `${String(made)} connections in ${String(lengthMs[size] / 1000)} s, the reading stored ${String(readings)} times`;
      return { held: made <= 3 && readings === 1, seen };
    });
  } finally {
    await broker.remove();
    dropFolder(folder);
    dropFolder(data);
  }
}

async function closing(
  closes: 'at once' | 'on a publish',
  size: 'small' | 'full',
  mostConnections: number,
): Promise<Outcome> {
  const data = newFolder();
  const broker = await startClosingBroker(closes, { topic, payload: '12.5' });
  try {
    return await withServer(data, broker.url, async (server) => {
      await pause(lengthMs[size]);
      const readings = await stored(server);
      const made = broker.connections();
      const seen = `${String(made)} connections in ${String(lengthMs[size] / 1000)} s, the reading stored ${String(readings)} times`;
      return { held: made > 0 && made <= mostConnections && readings <= 1, seen };
    });
  } finally {
    await broker.close();
    dropFolder(data);
  }
}

export const outsideAttacks: readonly Attack[] = [
  {
    name: 'outside broker: Mosquitto refuses one publish while a reading without a time waits',
    expected: 'at most three connections, the reading stored once',
    run: refusedPublish,
  },
  {
    name: 'outside broker: MQTT 3.1.1 closes the connection on a publish and sends its message again',
    expected: 'at most three connections, the reading stored once',
    run: (size) => closing('on a publish', size, 3),
  },
  {
    name: 'outside broker: closes each connection right after it was opened',
    expected: 'pauses that double to half a minute, the reading stored at most once',
    // After 0, 1, 3, 7, 15 and 31 s.
    run: (size) => closing('at once', size, size === 'small' ? 4 : 6),
  },
];
