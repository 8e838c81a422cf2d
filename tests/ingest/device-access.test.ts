/** Who may connect to the embedded broker and what a device may say there. */
import { connect } from 'node:net';
import type { MqttClient } from 'mqtt';
import { expect, test } from 'vitest';
import { Authenticator, isLoopback, type Device } from '../../ingest/broker/authenticator.ts';
import { startIngest, type IngestOptions } from '../../ingest/ingest.ts';
import { isDevicePassword } from '../../server/farm/device-password.ts';
import { hashPassword } from '../../server/farm/password.ts';
import { embeddedIngests } from './support/embedded-ingest.ts';
import { memoryPort } from './support/memory-port.ts';
import { until } from './support/until.ts';

const embedded = embeddedIngests();

const passwordHash = await hashPassword('propolis-14');
const scale: Device = { name: 'scale-1', passwordHash, ownTopicsOnly: true };
const gateway: Device = { name: 'gateway', passwordHash, ownTopicsOnly: false };

async function start(devices: readonly Device[], limits?: IngestOptions['limits']) {
  const started = await embedded.start({ devices, isPassword: isDevicePassword }, limits);
  const join = (username?: string, password = 'propolis-14'): Promise<MqttClient> =>
    embedded.connect(started.ingest, username === undefined ? {} : { username, password });
  return { ...started, join };
}

const readingsOf = (port: ReturnType<typeof memoryPort>) => port.batches.flatMap(({ readings }) => readings);
const quarantineOf = (port: ReturnType<typeof memoryPort>) =>
  port.batches.flatMap(({ quarantined }) => quarantined);

test('nameless clients from this machine only until the first device is made', async () => {
  const { ingest, join, port } = await start([]);
  const first = await join();
  await first.publishAsync('welcomb/a/weight', '1', { qos: 1 });
  expect(readingsOf(port)).toHaveLength(1);
  ingest.setDevices([scale]);
  await expect(join()).rejects.toThrow(/Not authorized/i);
});

test('with the first device nameless connections end; with a device that is shut out its own, and no other', async () => {
  const { ingest, join, port } = await start([]);
  const nameless = await join();
  ingest.setDevices([scale, gateway]);
  await until(() => !nameless.connected);
  const [shutOut, stays] = [await join('scale-1'), await join('gateway')];
  ingest.setDevices([gateway]);
  await until(() => !shutOut.connected);
  await stays.publishAsync('welcomb/a/weight', '2', { qos: 1 });
  expect(readingsOf(port).map(({ value }) => value)).toEqual([2]);
  // Made again with a new password: who came in by the old one has to show the new.
  ingest.setDevices([{ ...gateway, passwordHash: await hashPassword('another-15') }]);
  await until(() => !stays.connected);
});

test('a device that is shut out while its password is checked does not come in', async () => {
  let answer: (right: boolean) => void = () => undefined;
  const isRight = (): Promise<boolean> =>
    new Promise((resolve) => {
      answer = resolve;
    });
  const authenticator = new Authenticator({ devices: [scale], isPassword: isRight }, true, Date.now);
  const authentication = authenticator.authenticate('scale-1', Buffer.from('propolis-14'), '127.0.0.1');
  authenticator.setDevices([gateway]);
  answer(true);
  expect(await authentication).toEqual({ ok: false, reason: 'this device was shut out' });
});

test('who came in by name is told, who did not is not', async () => {
  const { names, join } = await start([scale]);
  await join('scale-1');
  await expect(join('scale-1', 'guess')).rejects.toThrow();
  expect(names).toEqual(['scale-1']);
});

test('the right password opens, a wrong one or an unknown name does not, and the log says so', async () => {
  const { join, warnings } = await start([scale]);
  await join('scale-1');
  await expect(join('scale-1', 'guess')).rejects.toThrow(/Not authorized/i);
  await expect(join('nobody')).rejects.toThrow(/Not authorized/i);
  expect(warnings.filter((each) => each.includes('turned away'))).toHaveLength(2);
  expect(warnings.join()).not.toContain('guess');
});

test('a device limited to its own topics: what it says elsewhere is quarantined, acknowledged and goes nowhere', async () => {
  const { join, port } = await start([scale, gateway]);
  const [limited, free] = [await join('scale-1'), await join('gateway')];
  const heard: string[] = [];
  free.on('message', (topic) => heard.push(topic));
  await free.subscribeAsync('#', { qos: 1 });
  await limited.publishAsync('welcomb/scale-1/weight', '12', { qos: 1 });
  await limited.publishAsync('welcomb/scale-2/weight', '99', { qos: 1, retain: true });
  await free.publishAsync('welcomb/scale-2/weight', '13', { qos: 1 });
  await until(() => heard.filter((topic) => topic === 'welcomb/scale-2/weight').length === 1);
  expect(readingsOf(port).map(({ sensor, value }) => [sensor, value])).toEqual([
    ['scale-1', 12],
    ['scale-2', 13],
  ]);
  expect(quarantineOf(port)).toMatchObject([
    { topic: 'welcomb/scale-2/weight', reason: expect.stringContaining('only below welcomb/scale-1') },
  ]);
  await expect(limited.subscribeAsync('welcomb/#')).rejects.toThrow();
});

test('nobody but the server speaks below $server, and $SYS is refused', async () => {
  const { join, port } = await start([]);
  const client = await join();
  await client.publishAsync('welcomb/$server/online', 'false', { qos: 1 });
  expect(quarantineOf(port)[0]?.reason).toContain('only the server');
  const closed = new Promise<void>((resolve) => client.once('close', resolve));
  client.publish('$SYS/broker/load', '1', { qos: 1 });
  await closed;
  expect(readingsOf(port)).toEqual([]);
});

test('what the server publishes reaches subscribers and is not taken for a reading', async () => {
  const { join, port, ingest } = await start([]);
  const client = await join();
  const heard: string[] = [];
  client.on('message', (topic, payload) => heard.push(`${topic} ${payload.toString()}`));
  await client.subscribeAsync('welcomb/$server/nuc/#');
  await ingest.publish('welcomb/$server/nuc/3', '{"state":"caged"}', { retain: true });
  await until(() => heard.length === 1);
  expect(heard).toEqual(['welcomb/$server/nuc/3 {"state":"caged"}']);
  expect(port.batches).toEqual([]);
});

test('a 10 MB message is acknowledged, named in quarantine and log, and the next one is read', async () => {
  const { join, port, warnings } = await start([]);
  const client = await join();
  await client.publishAsync('welcomb/scale-1/weight', Buffer.alloc(10_000_000, 0x31), { qos: 1 });
  await client.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 });
  expect(quarantineOf(port)).toMatchObject([
    {
      topic: 'welcomb/scale-1/weight',
      payloadBytes: 10_000_000,
      reason: expect.stringContaining('10000000 bytes'),
    },
  ]);
  expect(quarantineOf(port)[0]?.payload).toHaveLength(4096);
  expect(readingsOf(port)).toMatchObject([{ value: 12.5 }]);
  expect(warnings.join()).toContain('10000000 bytes');
});

test('an oversized first packet closes the connection', async () => {
  const { ingest } = await start([]);
  const socket = connect(ingest.address.port, '127.0.0.1');
  const closed = new Promise((resolve) => socket.once('close', resolve));
  socket.on('error', () => undefined);
  socket.write(Buffer.concat([Buffer.from([0x10, 0x80, 0x80, 0x80, 0x01]), Buffer.alloc(3_000_000)]));
  await closed;
});

test('more connections than allowed are refused, and told', async () => {
  const { ingest, join, warnings } = await start([], { maxConnections: 1 });
  await join();
  const socket = connect(ingest.address.port, '127.0.0.1');
  socket.on('error', () => undefined);
  await new Promise((resolve) => socket.once('close', resolve));
  await until(() => warnings.some((each) => each.includes('1 are open already')));
});

test('who sends too fast is slowed down and loses nothing', async () => {
  const { join, port } = await start([], { messagesPerSecond: 100, burst: 5 });
  const client = await join();
  const started = performance.now();
  await Promise.all(
    Array.from({ length: 30 }, (_, at) =>
      client.publishAsync(`welcomb/s${String(at)}/weight`, '1', { qos: 1 }),
    ),
  );
  // 25 beyond the burst at 100 a second.
  expect(performance.now() - started).toBeGreaterThan(200);
  expect(readingsOf(port)).toHaveLength(30);
});

test('a port in use is one sentence', async () => {
  const { ingest } = await start([]);
  const broker = {
    kind: 'embedded',
    host: '127.0.0.1',
    port: ingest.address.port,
    devices: { devices: [], isPassword: isDevicePassword },
    allowAnonymous: true,
  } as const;
  const logger = { info: () => undefined, warn: () => undefined, error: () => undefined };
  await expect(startIngest({ port: memoryPort(), broker, clock: Date.now, logger })).rejects.toThrow(
    /can't listen on 127\.0\.0\.1:\d+: the port is in use/,
  );
});

test('after ten wrong passwords an address has to wait a minute, and a right one is not checked either', async () => {
  let checks = 0;
  let now = 0;
  const authenticator = new Authenticator(
    {
      devices: [scale],
      isPassword: (password) => Promise.resolve((checks += 1) > 0 && password === 'right'),
    },
    true,
    () => now,
  );
  const knock = (password: string, address = '10.0.0.9') =>
    authenticator.authenticate('scale-1', Buffer.from(password), address);
  for (let attempt = 0; attempt < 10; attempt += 1) expect(await knock('wrong')).toMatchObject({ ok: false });
  expect(await knock('right')).toMatchObject({ ok: false, reason: expect.stringContaining('wait a minute') });
  expect(checks).toBe(10);
  expect(await knock('right', '10.0.0.10')).toMatchObject({ ok: true });
  now = 61_000;
  expect(await knock('right')).toMatchObject({ ok: true });
  // Known again without another slow check.
  expect(checks).toBe(11);
});

test.each<[string, boolean]>([
  ['127.0.0.1', true],
  ['127.8.9.1', true],
  ['::1', true],
  ['::ffff:127.0.0.1', true],
  ['192.168.1.5', false],
  ['::ffff:10.0.0.1', false],
  ['', false],
  ['127.evil.example', false],
])('loopback: %s %s', (address, expected) => {
  expect(isLoopback(address)).toBe(expected);
});

test('a nameless client from elsewhere is never let in', async () => {
  const authenticator = new Authenticator({ devices: [], isPassword: isDevicePassword }, true, Date.now);
  expect(await authenticator.authenticate(undefined, undefined, '192.168.1.5')).toMatchObject({ ok: false });
  expect(await authenticator.authenticate(undefined, undefined, '127.0.0.1')).toMatchObject({ ok: true });
});
