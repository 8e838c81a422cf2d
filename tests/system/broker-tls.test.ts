/** The whole server with its own broker behind TLS, by the key and certificate files that its settings name. */
import { readFileSync } from 'node:fs';
import { connect } from 'node:net';
import { fileURLToPath } from 'node:url';
import { connectAsync, type IClientOptions } from 'mqtt';
import mqttPacket from 'mqtt-packet';
import { expect, test } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { dropFolder, startServer } from '../support/server-process.ts';

const file = (name: string): string => fileURLToPath(new URL(`../http/fixtures/${name}`, import.meta.url));
const key = file('localhost-key.pem');
const cert = file('localhost-cert.pem');

/** First byte of the answer to a CONNECT without TLS; undefined where the connection just ends. */
const answerToPlain = (port: number): Promise<number | undefined> =>
  new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1', () => {
      socket.write(mqttPacket.generate({ cmd: 'connect', clientId: 'plain', keepalive: 0, clean: true }));
    });
    socket.on('data', (chunk: Buffer) => {
      resolve(chunk[0]);
    });
    socket.on('error', () => undefined);
    socket.on('close', () => {
      resolve(undefined);
    });
  });
const connack = 0x20;

test('takes readings over TLS alone', { timeout: 30_000 }, async () => {
  const server = await startServer({ args: ['--mqtt-tls-key', key, '--mqtt-tls-cert', cert] });
  try {
    expect(server.mqtt).toMatch(/^mqtts:/);
    const url = `mqtts://localhost:${new URL(server.mqtt).port}`;
    const device = await connectAsync(url, { ca: readFileSync(cert), family: 4 } as IClientOptions);
    await device.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 });
    await device.endAsync(true);
    const { items } = await server.get<ResponseOf<'listChannels'>>('/api/v1/channels');
    expect(items).toMatchObject([{ sensor: 'scale-1', latest: { value: 12.5 } }]);
    expect(await answerToPlain(Number(new URL(server.mqtt).port))).not.toBe(connack);
  } finally {
    await server.stop();
    dropFolder(server.data);
  }
});
