/** A broker of the keeper's that speaks MQTT 3.1.1 alone and wants a name and a password. */
import { createServer } from 'node:net';
import { Aedes, type AuthenticateError } from 'aedes';
import mqtt from 'mqtt';
import { afterEach, expect, test } from 'vitest';
import { startIngest } from '../../ingest/ingest.ts';
import { memoryPort } from './support/memory-port.ts';
import { until } from './support/until.ts';

const undo: (() => unknown)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});

/** Aedes is such a broker: it hangs up on version 5. */
async function oldBroker(): Promise<{ url: string; names: unknown[] }> {
  const names: unknown[] = [];
  const broker = await Aedes.createBroker({
    authenticate(_client, name, password, done) {
      names.push(name);
      if (name === 'hub' && String(password) === 'smoker-9') done(null, true);
      else done(Object.assign(new Error('no'), { returnCode: 5 }) as AuthenticateError, false);
    },
  });
  const server = createServer(broker.handle);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  undo.push(async () => {
    await new Promise<void>((resolve) => {
      broker.close(resolve);
    });
    server.close();
  });
  const { port } = server.address() as { port: number };
  return { url: `mqtt://127.0.0.1:${String(port)}`, names };
}

async function connectTo(url: string, password: string) {
  const port = memoryPort();
  const quiet = (): undefined => undefined;
  const ingest = await startIngest({
    port,
    broker: { kind: 'outside', url, clientId: 'welcomb-old', username: 'hub', password },
    clock: Date.now,
    logger: { info: quiet, warn: quiet, error: quiet },
    limits: { reconnectMs: 20, maxReconnectMs: 50 },
  });
  undo.push(() => ingest.stop());
  return { port, ingest };
}

test('is spoken to in its version, with name and password, and its readings are stored', async () => {
  const { url } = await oldBroker();
  const { port, ingest } = await connectTo(url, 'smoker-9');
  await until(() => ingest.status().connected);
  const sensor = await mqtt.connectAsync(url, { username: 'hub', password: 'smoker-9', protocolVersion: 4 });
  undo.push(() => sensor.endAsync(true));
  await sensor.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 });
  await until(() => port.batches.some(({ readings }) => readings[0]?.value === 12.5));
});

test('that refuses the password is told as not connected, with the reason, and is tried again', async () => {
  const { url, names } = await oldBroker();
  const { ingest } = await connectTo(url, 'guess');
  const refused = /is not connected: the broker refused the connection \(code 5\)/;
  await until(() => refused.test(ingest.status().detail));
  expect(ingest.status()).toMatchObject({ connected: false });
  const asked = names.length;
  await until(() => names.length > asked);
});
