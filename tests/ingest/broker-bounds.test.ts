/** What strangers and careless devices can make the embedded broker hold, and what one device can have of another. */
import { once } from 'node:events';
import { connect } from 'node:net';
import fc from 'fast-check';
import type { IClientOptions, MqttClient } from 'mqtt';
import type { AedesPublishPacket, Client } from 'aedes';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { ConnectionCounter } from '../../ingest/broker/connection-counter.ts';
import { ConnectionLog } from '../../ingest/broker/connection-log.ts';
import type { Connection } from '../../ingest/broker/connection.ts';
import { Authenticator, type Device } from '../../ingest/broker/authenticator.ts';
import { RetainedRoom } from '../../ingest/broker/retained.ts';
import { isOwnTopic } from '../../ingest/broker/rights.ts';
import { clientIdOf, Sessions, defaultSessionLimits } from '../../ingest/broker/sessions.ts';
import { presence } from '../../ingest/decode/own-topics.ts';
import type { Ingest } from '../../ingest/ingest.ts';
import { embeddedIngests } from './support/embedded-ingest.ts';
import { until } from './support/until.ts';

const embedded = embeddedIngests();

const device = (name: string, ownTopicsOnly: boolean): Device => ({
  name,
  passwordHash: `hash of ${name}`,
  ownTopicsOnly,
});
const gateway = device('gateway', false);
const hub = device('hub', false);
const scale = device('scale-1', true);

const withPassword = (options: IClientOptions): IClientOptions =>
  options.username === undefined ? options : { ...options, password: 'right' };

async function start(devices: readonly Device[] = []) {
  const isPassword = (password: string): Promise<boolean> => Promise.resolve(password === 'right');
  const { port, ingest, warnings: lines } = await embedded.start({ devices, isPassword });
  const join = (options: IClientOptions = {}): Promise<MqttClient> =>
    embedded.connect(ingest, withPassword(options));
  return { port, ingest, lines, join };
}

/** Notes from before it is connected: what waited comes at once. That the server is there is no device's message. */
async function hearAll(
  ingest: Ingest,
  options: IClientOptions,
): Promise<{ client: MqttClient; heard: string[] }> {
  const heard: string[] = [];
  const client = embedded.client(ingest, withPassword(options));
  client.on('message', (topic, payload) => {
    if (topic !== presence.topic) heard.push(`${topic} ${payload.toString()}`);
  });
  await until(() => client.connected);
  return { client, heard };
}

const quietFor = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

describe('what is retained', () => {
  test('a device keeps 500 messages; every reading is stored, and the log says so', async () => {
    const { join, port, lines } = await start();
    const client = await join();
    for (let at = 0; at < 600; at += 1)
      client.publish(`welcomb/s${String(at)}/weight`, '12', { qos: 1, retain: true });
    await client.publishAsync('welcomb/s0/weight', '13', { qos: 1, retain: true });
    const late = await join();
    const heard = new Map<string, string>();
    late.on('message', (topic, payload) => heard.set(topic, payload.toString()));
    await late.subscribeAsync('welcomb/+/weight');
    await until(() => heard.size >= 500);
    await quietFor(50);
    expect(heard.size).toBe(500);
    expect(heard.get('welcomb/s0/weight')).toBe('13');
    expect(port.batches.flatMap(({ readings }) => readings)).toHaveLength(601);
    expect(lines.join()).toContain('is not retained');
  });

  test('what a device left goes with it', async () => {
    const { join, ingest } = await start([gateway, hub]);
    const client = await join({ username: 'gateway' });
    await client.publishAsync('welcomb/a/weight', '12', { qos: 1, retain: true });
    const early = await hearAll(ingest, { username: 'hub' });
    await early.client.subscribeAsync('#');
    await until(() => early.heard.length === 1);
    ingest.setDevices([hub]);
    const { client: listener, heard } = await hearAll(ingest, { username: 'hub' });
    await listener.subscribeAsync('#');
    await quietFor(50);
    expect(heard).toEqual([]);
  });

  test('the room never holds more than it says, whoever claims and takes back', () => {
    const limits = { messagesPerOwner: 3, bytesPerOwner: 40, messages: 5, bytes: 60 };
    const claim = fc.record({
      owner: fc.constantFrom('a', 'b', 'c'),
      topic: fc.constantFrom('1', '2', '3', '4', '5', '6', '7'),
      bytes: fc.integer({ min: 0, max: 20 }),
    });
    fc.assert(
      fc.property(fc.array(claim, { maxLength: 60 }), (claims) => {
        const room = new RetainedRoom(limits);
        const held = new Map<string, { owner: string; bytes: number }>();
        const fits = (owner: string, bytes: number): boolean => {
          const all = [...held.values()];
          const own = all.filter((each) => each.owner === owner);
          const sum = (some: typeof all): number => some.reduce((total, each) => total + each.bytes, bytes);
          return own.length < 3 && sum(own) <= 40 && all.length < 5 && sum(all) <= 60;
        };
        for (const { owner, topic, bytes } of claims) {
          held.delete(topic);
          const expected = bytes === 0 || fits(owner, bytes + 1);
          expect(room.claim(owner, topic, bytes)).toBe(expected);
          if (expected && bytes > 0) held.set(topic, { owner, bytes: bytes + 1 });
        }
        for (const owner of ['a', 'b', 'c']) {
          const topics = [...held].filter(([, each]) => each.owner === owner).map(([topic]) => topic);
          expect([...room.take(owner)].sort()).toEqual(topics.sort());
        }
      }),
    );
  });
});

describe('what waits for who is away', () => {
  test('the newest thousand messages, in their order', async () => {
    const { join, ingest } = await start();
    const away = await join({ clientId: 'hub', clean: false });
    await away.subscribeAsync('welcomb/#', { qos: 1 });
    await away.endAsync();
    const sensor = await join();
    await Promise.all(
      Array.from({ length: 1500 }, (_, at) =>
        sensor.publishAsync('welcomb/a/weight', String(at), { qos: 1 }),
      ),
    );
    const { heard } = await hearAll(ingest, { clientId: 'hub', clean: false });
    await until(() => heard.length >= 1000);
    expect(heard).toHaveLength(1000);
    expect([heard[0], heard.at(-1)]).toEqual(['welcomb/a/weight 500', 'welcomb/a/weight 1499']);
  });

  const connection = { filters: new Set(['#']) } as unknown as Connection;
  const clientNamed = (id: string): Client => ({ id, clean: false, conn: connection }) as unknown as Client;
  const packet = (payload: Buffer): AedesPublishPacket =>
    ({ cmd: 'publish', topic: 'welcomb/a/weight', payload, qos: 1, retain: false }) as AedesPublishPacket;

  async function sessionsOf(ids: readonly string[]) {
    let nowMs = 1;
    const sessions = new Sessions(defaultSessionLimits, () => nowMs);
    for (const id of ids) {
      sessions.came(id);
      await sessions.addSubscriptions(clientNamed(id), [{ topic: '#', qos: 1 }]);
      nowMs += 1;
      await sessions.left(id);
    }
    const passing = (ms: number): void => {
      nowMs += ms;
    };
    return { sessions, passing };
  }
  const tell = async (sessions: Sessions, payload: Buffer): Promise<void> => {
    const told = packet(payload);
    await sessions.outgoingEnqueueCombi(await sessions.subscriptionsByTopic(told.topic), told);
  };

  test('half a megabyte at most, and a few bytes do not keep the piece of the stream that they came in', async () => {
    const { sessions } = await sessionsOf(['gateway/1']);
    const piece = Buffer.alloc(65_536, 0x31);
    for (let at = 0; at < 200; at += 1) await tell(sessions, piece.subarray(0, 10_000));
    expect(sessions.waiting().bytes).toBeLessThanOrEqual(512 * 1024);
    expect(sessions.waiting().messages).toBeGreaterThan(40);
    for await (const waiting of sessions.outgoingStream(clientNamed('gateway/1')))
      expect(((waiting as AedesPublishPacket).payload as Buffer).buffer.byteLength).toBe(10_000);
  });

  test('a day; who comes back in time finds all', async () => {
    const { sessions, passing } = await sessionsOf(['gateway/1', 'hub/1']);
    await tell(sessions, Buffer.from('12'));
    passing(23 * 3600_000);
    await sessions.expire();
    expect(sessions.waiting()).toMatchObject({ sessions: 2, messages: 2 });
    sessions.came('hub/1');
    passing(2 * 3600_000);
    await sessions.expire();
    expect(sessions.waiting()).toMatchObject({ sessions: 1, messages: 1 });
    await tell(sessions, Buffer.from('13'));
    expect(sessions.waiting()).toMatchObject({ sessions: 1, messages: 2 });
  });

  test('4 sessions of a device and 50 in all, the last that left', async () => {
    const many = Array.from({ length: 6 }, (_, at) => clientIdOf('gateway', String(at)));
    const { sessions } = await sessionsOf(many);
    await tell(sessions, Buffer.from('12'));
    expect(sessions.waiting()).toMatchObject({ sessions: 4, messages: 4 });
    expect(await sessions.subscriptionsByClient(clientNamed('gateway/0'))).toEqual([]);
    expect(await sessions.subscriptionsByClient(clientNamed('gateway/5'))).toHaveLength(1);
    const all = await sessionsOf(Array.from({ length: 70 }, (_, at) => clientIdOf(`d${String(at)}`, 'x')));
    expect(all.sessions.waiting().sessions).toBe(50);
  });
});

describe('connections', () => {
  test('an address has at most so many, and fewer that have not signed in', () => {
    const counter = new ConnectionCounter({
      perAddress: 3,
      unauthenticatedPerAddress: 2,
      unauthenticated: 3,
    });
    const made: { connection: Connection; close: () => void }[] = [];
    const add = (address: string): Connection => {
      let close = (): void => undefined;
      const connection = {
        address,
        isAuthenticated: false,
        closed: false,
        once: (_event: string, heard: () => void) => (close = heard),
      } as unknown as Connection;
      counter.add(connection);
      made.push({
        connection,
        close: () => {
          close();
        },
      });
      return connection;
    };
    const first = add('a');
    add('a');
    expect(counter.whyFull('a')).toContain('not signed in');
    counter.authenticated(first);
    counter.authenticated(first);
    expect(counter.whyFull('a')).toBeUndefined();
    add('a');
    expect(counter.whyFull('a')).toContain('3 open already');
    expect(counter.whyFull('b')).toBeUndefined();
    add('b');
    expect(counter.whyFull('c')).toContain('3 are open');
    for (const { close } of made) close();
    for (const address of ['a', 'b', 'c']) expect(counter.whyFull(address)).toBeUndefined();
  });

  test('the 101st that says nothing is closed, and who signed in goes on', async () => {
    const { ingest, join, port } = await start();
    const client = await join();
    const sockets = Array.from({ length: 101 }, () => {
      const socket = connect(ingest.address.port, '127.0.0.1');
      socket.on('error', () => undefined);
      return socket;
    });
    const closed = new Set<number>();
    for (const [at, socket] of sockets.entries()) socket.once('close', () => closed.add(at));
    await until(() => closed.size >= 1);
    await client.publishAsync('welcomb/a/weight', '12', { qos: 1 });
    expect(closed.size).toBe(1);
    expect(port.batches).toHaveLength(1);
    for (const socket of sockets) socket.destroy();
  });

  test('a first packet of more than 16 KiB, a last will of more than 4 and a long client id are refused', async () => {
    const { ingest, join, lines } = await start();
    const will = (bytes: number) => ({
      will: { topic: 'welcomb/a/weight', payload: Buffer.alloc(bytes), qos: 1 as const, retain: false },
    });
    const isClosed = async (options: IClientOptions): Promise<void> => {
      const client = embedded.client(ingest, options);
      client.on('error', () => undefined);
      await new Promise<void>((resolve) => {
        client.once('close', () => {
          resolve();
        });
      });
      expect(client.connected).toBe(false);
    };
    await isClosed(will(20_000));
    await isClosed(will(5000));
    await isClosed({ clientId: 'x'.repeat(129) });
    await join({ ...will(4000), clientId: 'x'.repeat(128) });
    expect(lines).toHaveLength(3);
  });

  test('fifty filters a connection, of 500 characters', async () => {
    const { join } = await start();
    const client = await join();
    for (let at = 0; at < 50; at += 1) await client.subscribeAsync(`a/${String(at)}`);
    await client.subscribeAsync('a/0');
    await expect(client.subscribeAsync('a/50')).rejects.toThrow();
    await client.unsubscribeAsync('a/1');
    await expect(client.subscribeAsync('a'.repeat(501))).rejects.toThrow();
    await client.subscribeAsync('a/50');
  });
});

describe('passwords', () => {
  const many = 300;

  test('of 300 guesses at once ten are checked, and the right one among the others does not open', async () => {
    let checks = 0;
    const isPassword = (password: string): Promise<boolean> => {
      checks += 1;
      return new Promise((resolve) => setTimeout(resolve, 1, password === 'right'));
    };
    const authenticator = new Authenticator({ devices: [scale], isPassword }, true, Date.now);
    const admissions = await Promise.all(
      Array.from({ length: many }, (_, at) =>
        authenticator.authenticate('scale-1', Buffer.from(at === many - 1 ? 'right' : 'guess'), '10.0.0.9'),
      ),
    );
    expect(checks).toBe(10);
    expect(admissions.filter(({ ok }) => ok)).toEqual([]);
    expect(await authenticator.authenticate('scale-1', Buffer.from('right'), '10.0.0.10')).toMatchObject({
      ok: true,
    });
  });

  test('an unknown name is checked like a known one, and counts', async () => {
    const checked: (string | undefined)[] = [];
    const isPassword = (_password: string, hash: string | undefined): Promise<boolean> => {
      checked.push(hash);
      return Promise.resolve(false);
    };
    const authenticator = new Authenticator({ devices: [scale], isPassword }, true, Date.now);
    for (let at = 0; at < 12; at += 1)
      await authenticator.authenticate('nobody', Buffer.from('x'), '10.0.0.9');
    expect(checked).toEqual(Array.from({ length: 10 }, () => undefined));
  });

  test('a check that fails by itself is no wrong password', async () => {
    const isPassword = (): Promise<boolean> => Promise.reject(new Error('too many'));
    const authenticator = new Authenticator({ devices: [scale], isPassword }, true, Date.now);
    for (let at = 0; at < 30; at += 1)
      await expect(authenticator.authenticate('scale-1', Buffer.from('right'), '10.0.0.9')).rejects.toThrow(
        'too many',
      );
  });

  test('thirty devices with right passwords behind one address come in one after the other', async () => {
    const isPassword = (password: string): Promise<boolean> => Promise.resolve(password === 'right');
    const authenticator = new Authenticator({ devices: [scale], isPassword }, true, Date.now);
    for (let at = 0; at < 30; at += 1)
      expect(await authenticator.authenticate('scale-1', Buffer.from('right'), '10.0.0.9')).toMatchObject({
        ok: true,
      });
  });
});

describe('one device and another', () => {
  test('the client id of another device gives neither its messages nor its place', async () => {
    const { join, ingest } = await start([gateway, hub]);
    const victim = await join({ username: 'hub', clientId: 'id', clean: false });
    await victim.subscribeAsync('welcomb/#', { qos: 1 });
    const { heard } = await hearAll(ingest, { username: 'gateway', clientId: 'id', clean: false });
    await quietFor(50);
    expect(victim.connected).toBe(true);
    await victim.endAsync();
    const sensor = await join({ username: 'gateway' });
    await sensor.publishAsync('welcomb/a/weight', '12', { qos: 1 });
    const thief = await hearAll(ingest, { username: 'gateway', clientId: 'id', clean: false });
    const back = await hearAll(ingest, { username: 'hub', clientId: 'id', clean: false });
    await until(() => back.heard.length === 1);
    expect([...heard, ...thief.heard]).toEqual([]);
  });

  test('whoever gets the name of a device that was shut out does not read what came for it', async () => {
    const { join, ingest } = await start([gateway, hub]);
    const before = await join({ username: 'hub', clientId: 'id', clean: false });
    await before.subscribeAsync('welcomb/#', { qos: 1 });
    await before.endAsync();
    const sensor = await join({ username: 'gateway' });
    await sensor.publishAsync('welcomb/a/weight', '12', { qos: 1 });
    ingest.setDevices([gateway]);
    ingest.setDevices([gateway, { ...hub, passwordHash: 'another' }]);
    const { heard } = await hearAll(ingest, { username: 'hub', clientId: 'id', clean: false });
    await quietFor(50);
    expect(heard).toEqual([]);
  });

  test('a filter that was refused beside one that was granted is not kept for the session', async () => {
    const { join, ingest } = await start([gateway, scale]);
    const options = { username: 'scale-1', clientId: 'id', clean: false };
    const limited = await join(options);
    await limited.subscribeAsync(['welcomb/scale-1/#', '#'], { qos: 1 }).catch(() => undefined);
    await limited.endAsync();
    const other = await join({ username: 'gateway' });
    await other.publishAsync('welcomb/scale-2/weight', '12', { qos: 1 });
    await other.publishAsync('welcomb/scale-1/set', 'on', { qos: 1 });
    const { heard } = await hearAll(ingest, options);
    await until(() => heard.length > 0);
    await quietFor(50);
    expect(heard).toEqual(['welcomb/scale-1/set on']);
  });

  test('what was beyond the rights of its sender is heard by nobody, under no name', async () => {
    const { join, ingest } = await start([gateway, scale]);
    const { client, heard } = await hearAll(ingest, { username: 'gateway' });
    await client.subscribeAsync('#', { qos: 1 });
    await client.subscribeAsync('welcomb/$server/#', { qos: 1 });
    const limited = await join({ username: 'scale-1' });
    await limited.publishAsync('welcomb/scale-2/weight', '99', { qos: 1 });
    await limited.publishAsync('welcomb/scale-1/weight', '12', { qos: 1 });
    await until(() => heard.length > 0);
    expect(heard).toEqual(['welcomb/scale-1/weight 12']);
  });

  test.each(['$SYS/#', '$SYS/+/new/clients', '$share/g/#'])('%s is not for devices', async (filter) => {
    const { join } = await start([gateway]);
    const client = await join({ username: 'gateway' });
    await expect(client.subscribeAsync(filter)).rejects.toThrow();
  });

  test.each(['+', '#', '$server', 'a/b', 'a\u0007'])('a device named %j hears nothing of others', (name) => {
    expect(isOwnTopic(device(name, true), `welcomb/${name}`)).toBe(false);
    expect(isOwnTopic(device(name, true), `welcomb/${name}/x`)).toBe(false);
  });

  test('client ids of two devices never meet', () => {
    const name = fc.string({ unit: 'grapheme', minLength: 1 });
    fc.assert(
      fc.property(name, name, name, name, (a, b, x, y) => {
        expect(clientIdOf(a, x) === clientIdOf(b, y)).toBe(a === b && x === y);
      }),
    );
    expect(clientIdOf('a/b', 'c')).not.toBe(clientIdOf('a', 'b/c'));
  });
});

test('a clock that leaps ahead makes nobody gone who is connected', async () => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval', 'Date'] });
  const every = setInterval;
  // What is done each minute comes a little later each time, as it does: after what is due every four minutes.
  vi.spyOn(globalThis, 'setInterval').mockImplementation(((then: () => void, ms: number) =>
    every(then, ms === 60_000 ? ms + 1 : ms)) as typeof setInterval);
  onTestFinished(() => {
    vi.restoreAllMocks();
    vi.useRealTimers();
  });
  const { port, join } = await start();
  await join({
    clientId: 'scale',
    // Its own clock runs as fast.
    keepalive: 0,
    will: { topic: 'welcomb/scale-1/weight', payload: Buffer.from('0'), qos: 1, retain: false },
  });
  // The engine looks for the last wills of other brokers every four minutes, and says once a minute that it is there itself.
  await vi.advanceTimersByTimeAsync(239_000);
  vi.setSystemTime(Date.now() + 3_600_000);
  await vi.advanceTimersByTimeAsync(1_000);
  await quietFor(100);
  expect(port.attempts).toBe(0);
});

describe('the log', () => {
  test('a thousand connections with long client ids write ten short lines a minute', async () => {
    let nowMs = 0;
    const lines: string[] = [];
    const log = new ConnectionLog(
      (line) => {
        lines.push(line);
      },
      () => nowMs,
    );
    for (let at = 0; at < 1000; at += 1) log.warn(`${String(at)}\n\u001b[2J${'x'.repeat(60_000)}`);
    expect(lines).toHaveLength(10);
    expect(lines.every((line) => line.length <= 201 && !/\p{Cc}/u.test(line))).toBe(true);
    nowMs = 60_000;
    log.warn('one more');
    expect(lines.slice(10)).toEqual(['990 more complaints about connections left out.', 'one more']);
  });

  test('a device that uses MQTT 5 is told to use 3.1.1', async () => {
    const { ingest, lines } = await start();
    const speaking = embedded.connect(ingest, { clientId: 'scale-3', protocolVersion: 5 });
    await expect(speaking).rejects.toThrow(/protocol version/i);
    expect(lines).toEqual([expect.stringMatching(/"scale-3" uses MQTT 5; set it to 3\.1\.1/)]);
  });

  test('bytes that are no packet are told in one short line', async () => {
    const { ingest, lines } = await start();
    const socket = connect(ingest.address.port, '127.0.0.1');
    socket.on('error', () => undefined);
    socket.end(Buffer.from('GET / HTTP/1.1\r\n\r\n'));
    await once(socket, 'close');
    await until(() => lines.length > 0);
    expect(lines.join().length).toBeLessThan(250);
  });
});
