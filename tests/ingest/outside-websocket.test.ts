/** Outside brokers behind a WebSocket: a real Mosquitto over ws://, and wss:// by the test certificate. */
import { readFileSync } from 'node:fs';
import { createServer } from 'node:https';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import { Aedes } from 'aedes';
import mqtt from 'mqtt';
import { afterEach, describe, expect, test } from 'vitest';
import { createWebSocketStream, WebSocketServer } from 'ws';
import { startIngest } from '../../ingest/ingest.ts';
import { missing, mosquitto } from '../support/programs.ts';
import { memoryPort } from './support/memory-port.ts';
import { freePort, startMosquitto } from './support/mosquitto.ts';
import { until } from './support/until.ts';

const undo: (() => unknown)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});
const pem = (name: string): string =>
  readFileSync(fileURLToPath(new URL(`../http/fixtures/${name}`, import.meta.url)), 'utf8');

async function start(url: string, ca?: string) {
  const port = memoryPort();
  const quiet = (): undefined => undefined;
  const ingest = await startIngest({
    port,
    broker: { kind: 'outside', url, clientId: 'welcomb-ws', ...(ca === undefined ? {} : { ca }) },
    clock: Date.now,
    logger: { info: quiet, warn: quiet, error: quiet },
    limits: { reconnectMs: 20, maxReconnectMs: 100, retryMs: 20 },
  });
  undo.push(() => ingest.stop());
  const values = (): number[] => port.batches.flatMap(({ readings }) => readings.map(({ value }) => value));
  return { port, ingest, values };
}

describe.skipIf(missing('mosquitto', mosquitto))('Mosquitto with a listener for WebSockets', () => {
  test('delivers readings, and keeps those that were not stored', async () => {
    const webSocketPort = await freePort();
    const broker = await startMosquitto(true, [
      `listener ${String(webSocketPort)} 127.0.0.1`,
      'protocol websockets',
    ]);
    undo.push(() => broker.remove());
    const url = `ws://127.0.0.1:${String(webSocketPort)}/mqtt`;
    const first = await start(url);
    await until(() => first.ingest.status().connected);
    const scale = await mqtt.connectAsync(broker.url);
    undo.push(() => scale.endAsync(true));
    for (let value = 1; value <= 300; value += 1)
      await scale.publishAsync('welcomb/scale-1/weight', String(value), { qos: 1 });
    await until(() => first.values().length === 300);
    first.port.failure = new Error('disk full');
    for (const value of [301, 302])
      await scale.publishAsync('welcomb/scale-1/weight', String(value), { qos: 1 });
    await until(() => first.ingest.status().store.state === 'unavailable');
    await first.ingest.stop();
    const second = await start(url);
    await until(() => second.values().length === 2);
    expect(second.values()).toEqual([301, 302]);
  });
});

test('a broker over wss:// is reached when its authority is known, and not otherwise; a large message stops nothing', async () => {
  const broker = await Aedes.createBroker();
  const server = createServer({ key: pem('localhost-key.pem'), cert: pem('localhost-cert.pem') });
  const sockets = new WebSocketServer({ server });
  sockets.on('connection', (socket) => {
    broker.handle(createWebSocketStream(socket));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  undo.push(async () => {
    for (const socket of sockets.clients) socket.terminate();
    await new Promise<void>((resolve) => {
      broker.close(resolve);
    });
    server.close();
  });
  const url = `wss://localhost:${String((server.address() as AddressInfo).port)}/mqtt`;
  const wary = await start(url);
  await until(() => /certificate/i.test(wary.ingest.status().detail));
  const trusted = await start(url, pem('localhost-cert.pem'));
  await until(() => trusted.ingest.status().connected);
  const scale = await mqtt.connectAsync(url, { ca: pem('localhost-cert.pem') });
  undo.push(() => scale.endAsync(true));
  await scale.publishAsync('welcomb/scale-1/weight', Buffer.alloc(3_000_000, 0x31), { qos: 1 });
  await scale.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 });
  await until(() => trusted.values().length === 1);
  expect(trusted.port.batches.flatMap(({ quarantined }) => quarantined)).toMatchObject([
    { payloadBytes: 3_000_000 },
  ]);
});
