/** TLS by key and certificate files, on both ways in. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import mqtt from 'mqtt';
import { afterEach, expect, test } from 'vitest';
import { startIngest, type Ingest, type IngestOptions } from '../../ingest/ingest.ts';
import { memoryPort } from './support/memory-port.ts';
import { until } from './support/until.ts';

const pem = (name: string): string =>
  readFileSync(fileURLToPath(new URL(`../http/fixtures/${name}`, import.meta.url)), 'utf8');
const cert = pem('localhost-cert.pem');
const silent = { info: () => undefined, warn: () => undefined, error: () => undefined };
const open: Ingest[] = [];
afterEach(async () => {
  for (const ingest of open.splice(0)) await ingest.stop();
});

async function start(broker: IngestOptions['broker'], port = memoryPort()) {
  const ingest = await startIngest({ port, broker, clock: Date.now, logger: silent });
  open.push(ingest);
  return { ingest, port };
}
const embedded = {
  kind: 'embedded',
  host: '127.0.0.1',
  port: 0,
  devices: { devices: [], isPassword: () => Promise.resolve(false) },
  allowAnonymous: true,
} as const;
const safe = () => start({ ...embedded, tls: { key: pem('localhost-key.pem'), cert } });

test('a device publishes over TLS, and plain text is no way in', async () => {
  const { ingest, port } = await safe();
  const where = `localhost:${String(ingest.address.port)}`;
  const client = await mqtt.connectAsync(`mqtts://${where}`, { ca: cert, family: 4 } as mqtt.IClientOptions);
  await client.publishAsync('welcomb/scale-1/weight', '12', { qos: 1 });
  // A large packet meets the same guard behind TLS.
  await client.publishAsync('welcomb/scale-1/weight', Buffer.alloc(1_000_000, 0x31), { qos: 1 });
  await client.endAsync();
  expect(port.batches.flatMap(({ readings }) => readings)).toHaveLength(1);
  expect(port.batches.flatMap(({ quarantined }) => quarantined)).toMatchObject([{ payloadBytes: 1_000_000 }]);
});

test('a key and certificate that do not belong together are one sentence', async () => {
  const swapped = { key: cert, cert: pem('localhost-key.pem') };
  await expect(start({ ...embedded, tls: swapped })).rejects.toThrow(
    /^The certificate and key of "mqttTls" don't work together: /,
  );
});

test('an outside broker is reached over TLS when its authority is known, and not otherwise', async () => {
  const { ingest } = await safe();
  const url = `mqtts://localhost:${String(ingest.address.port)}`;
  const trusted = await start({ kind: 'outside', url, clientId: 'a', ca: cert });
  await until(() => trusted.ingest.status().connected);
  const wary = await start({ kind: 'outside', url, clientId: 'b' });
  await until(() => /certificate/i.test(wary.ingest.status().detail));
  expect(wary.ingest.status().connected).toBe(false);
});
