/** Outside brokers that refuse what the server publishes, or end each connection. */
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import mqtt from 'mqtt';
import { afterEach, describe, expect, test } from 'vitest';
import { startIngest, type Ingest } from '../../ingest/ingest.ts';
import { missing, mosquitto } from '../support/programs.ts';
import { startClosingBroker } from './support/closing-broker.ts';
import { memoryPort } from './support/memory-port.ts';
import { startMosquitto } from './support/mosquitto.ts';
import { until } from './support/until.ts';

const undo: (() => unknown)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

async function start(url: string, reconnectMs = 20, maxReconnectMs = 100) {
  const port = memoryPort();
  const said: string[] = [];
  const note = (_details: object, sentence: string): void => void said.push(sentence);
  const ingest: Ingest = await startIngest({
    port,
    broker: { kind: 'outside', url, clientId: 'welcomb-refused' },
    clock: Date.now,
    logger: { info: note, warn: note, error: note },
    limits: { reconnectMs, maxReconnectMs },
  });
  undo.push(() => ingest.stop());
  const instants = (): Set<number> =>
    new Set(port.batches.flatMap(({ readings }) => readings.map(({ observedAtMs }) => observedAtMs)));
  return {
    port,
    ingest,
    said,
    instants,
    times: (word: string) => said.filter((one) => one.includes(word)).length,
  };
}

describe.skipIf(missing('mosquitto', mosquitto))(
  'a Mosquitto whose access list lets the server only read',
  () => {
    async function readOnly(): Promise<string> {
      const folder = mkdtempSync(join(tmpdir(), 'welcomb-acl-'));
      const acl = join(folder, 'acl');
      writeFileSync(acl, 'topic read welcomb/#\ntopic write welcomb/+/weight\n', { mode: 0o600 });
      const broker = await startMosquitto(true, [`acl_file ${acl}`]);
      undo.push(async () => {
        await broker.remove();
        rmSync(folder, { recursive: true, force: true });
      });
      return broker.url;
    }

    // Mosquitto ends the connection right after its refusal. Where the reset overtakes the refusal, only the second end
    // shows which topic is meant.
    test('loses the connection at most twice, warns once, and readings come in', async () => {
      const url = await readOnly();
      const { ingest, port, times } = await start(url);
      await until(() => times('refuses what the server publishes on welcomb/$server/online') > 0);
      await until(() => ingest.status().connected);
      await pause(500);
      expect(times('Connected.')).toBeLessThanOrEqual(3);
      expect(times('refuses what the server publishes')).toBe(1);
      await expect(ingest.publish('welcomb/$server/online', 'x', { retain: true })).rejects.toThrow(
        'refuses',
      );
      expect(ingest.status().connected).toBe(true);
      const scale = await mqtt.connectAsync(url);
      undo.push(() => scale.endAsync(true));
      await scale.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 });
      await until(() => port.batches.some(({ readings }) => readings[0]?.value === 12.5));
    });

    test('a reading without a time that is sent again is one reading', async () => {
      const url = await readOnly();
      const first = await start(url);
      await until(() => first.times('refuses what') > 0 && first.ingest.status().connected);
      await pause(100);
      await first.ingest.stop();
      const scale = await mqtt.connectAsync(url);
      undo.push(() => scale.endAsync(true));
      await scale.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 });
      const second = await start(url);
      await until(() => second.times('refuses what') > 0 && second.instants().size > 0);
      await pause(700);
      expect(second.instants().size).toBe(1);
    });
  },
);

describe('a broker of MQTT 3.1.1 that closes the connection on a publish', () => {
  test('is published to no more, keeps its connection, and its reading is stored and acknowledged once', async () => {
    const broker = await startClosingBroker('on a publish');
    undo.push(() => broker.close());
    const { ingest, instants, times } = await start(broker.url);
    await until(() => broker.acknowledged() && broker.connections() >= 3 && ingest.status().connected);
    await pause(400);
    expect(broker.connections()).toBe(3);
    expect(broker.open()).toBe(1);
    expect(times('refuses what the server publishes on welcomb/$server/online')).toBe(1);
    expect(instants().size).toBe(1);
  });
});

describe('a broker that closes each connection at once', () => {
  test('is asked less and less often', async () => {
    const broker = await startClosingBroker('at once');
    undo.push(() => broker.close());
    const { instants } = await start(broker.url, 50, 10_000);
    await until(() => broker.pausesMs().length >= 4);
    // A busy machine makes a pause longer, never shorter; a timer may end within the millisecond before.
    const pauses = broker.pausesMs().slice(0, 4);
    expect(pauses.map((ms, at) => ms >= 50 * 2 ** at - 1)).toEqual([true, true, true, true]);
    expect(instants().size).toBeLessThanOrEqual(1);
  });
});

test('of something that takes connections and is silent it is said that it does not answer', async () => {
  const mute = createServer((socket) => socket.resume()).listen(0, '127.0.0.1');
  await once(mute, 'listening');
  undo.push(async () => {
    mute.close();
    await once(mute, 'close');
  });
  const { port } = mute.address() as AddressInfo;
  const ingest = await startIngest({
    port: memoryPort(),
    broker: { kind: 'outside', url: `mqtt://127.0.0.1:${String(port)}`, clientId: 'welcomb-test' },
    clock: Date.now,
    logger: { info: () => undefined, warn: () => undefined, error: () => undefined },
    limits: { keepaliveS: 1 },
  });
  undo.push(() => ingest.stop());
  await until(() => ingest.status().detail !== 'Not connected yet.');
  expect(ingest.status().detail).toMatch(/ is not connected: it does not answer; .*TLS/);
});
