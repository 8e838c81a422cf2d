/** The short way of readings past the broker: what it takes, in which order, and how it is acknowledged. */
import { connect, type Socket } from 'node:net';
import fc from 'fast-check';
import mqtt from 'mqtt';
import mqttPacket, { type Packet } from 'mqtt-packet';
import { afterEach, describe, expect, test } from 'vitest';
import { publishLane } from '../../ingest/broker/publish-lane.ts';
import { startIngest, type Ingest } from '../../ingest/ingest.ts';
import { memoryPort } from './support/memory-port.ts';
import { until } from './support/until.ts';

const publish = (
  topic: string,
  payload: string,
  qos: 0 | 1 | 2,
  more: { retain?: boolean; dup?: boolean } = {},
) => ({ cmd: 'publish', topic, payload, qos, retain: false, dup: false, messageId: 7, ...more }) as const;

describe('a stream of packets, however it is cut', () => {
  const text = fc.string({ maxLength: 40 });
  const level = fc.string({ unit: fc.constantFrom('a', 'b', 'ü', '蜂', '-'), minLength: 1, maxLength: 6 });
  const plain = fc
    .tuple(level, level, text, fc.boolean())
    .map(([a, b, payload, dup]) => publish(`${a}/${b}`, payload, 1, { dup }));
  const other = fc.oneof(
    fc.tuple(level, text).map(([topic, payload]) => publish(topic, payload, 0)),
    fc.tuple(level, text).map(([topic, payload]) => publish(topic, payload, 2)),
    fc.tuple(level, text).map(([topic, payload]) => publish(topic, payload, 1, { retain: true })),
    fc.constantFrom('$SYS/x', 'l/'.repeat(60)).map((topic) => publish(topic, '1', 1)),
    fc.constant({ cmd: 'pingreq' } as const),
    fc.constant({ cmd: 'subscribe', messageId: 9, subscriptions: [{ topic: 'x', qos: 0 }] } as const),
  );
  const brief = (packet: { cmd?: string; topic?: string | null; payload?: unknown }): string =>
    typeof packet.topic !== 'string' ? String(packet.cmd) : `${packet.topic} ${String(packet.payload)}`;

  test('all of it arrives whole, once and in order; only plain readings are taken', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof({ weight: 3, arbitrary: plain }, other), { maxLength: 30 }),
        fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 1, maxLength: 20 }),
        fc.infiniteStream(fc.constantFrom('all', 'all but the last', 'none')),
        (packets, cuts, taking) => {
          const heard: string[] = [];
          let taken = 0;
          const parser = mqttPacket.parser();
          parser.on('packet', (packet: Packet) => heard.push(brief(packet)));
          const lane = publishLane(
            () => taking.next().value,
            ({ topic, payload, messageId }) => {
              expect(messageId).toBe(7);
              taken += 1;
              heard.push(brief({ topic, payload: payload.toString('utf8') }));
            },
          );
          const stream = Buffer.concat(packets.map((packet) => mqttPacket.generate(packet as Packet)));
          for (let at = 0, turn = 0; at < stream.length; turn += 1) {
            const size = cuts[turn % cuts.length] ?? 1;
            parser.parse(lane.pass(Buffer.from(stream.subarray(at, at + size))));
            at += size;
          }
          expect(heard).toEqual(packets.map(brief));
          expect(taken).toBeLessThanOrEqual(
            packets.filter((packet) => packet.cmd === 'publish' && packet.qos === 1 && !packet.retain).length,
          );
        },
      ),
      { numRuns: 300 },
    );
  });

  test('a piece of nothing but plain readings is taken whole', () => {
    const taken: string[] = [];
    const lane = publishLane(
      () => 'all',
      ({ topic }) => taken.push(topic),
    );
    const bytes = ['a', 'b', 'c'].map((topic) => mqttPacket.generate(publish(topic, '1', 1)));
    expect(lane.pass(Buffer.concat(bytes))).toHaveLength(0);
    expect(taken).toEqual(['a', 'b', 'c']);
  });

  test('the last one of a piece can be left to the broker, so that it sees that the sender lives', () => {
    const taken: string[] = [];
    const lane = publishLane(
      () => 'all but the last',
      ({ topic }) => taken.push(topic),
    );
    const bytes = ['a', 'b', 'c'].map((topic) => mqttPacket.generate(publish(topic, '1', 1)));
    expect(lane.pass(Buffer.concat([...bytes, Buffer.of(0x32)]))).toEqual(bytes[2]);
    expect(taken).toEqual(['a', 'b']);
  });

  test('arbitrary bytes never throw', () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 40 })), (pieces) => {
        const lane = publishLane(
          () => 'all',
          () => undefined,
        );
        for (const piece of pieces) lane.pass(Buffer.from(piece));
      }),
    );
  });
});

const undo: (() => unknown)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});
const quiet = (): undefined => undefined;

async function start() {
  const port = memoryPort();
  const ingest: Ingest = await startIngest({
    port,
    broker: {
      kind: 'embedded',
      host: '127.0.0.1',
      port: 0,
      devices: { devices: [], isPassword: () => Promise.resolve(false) },
      allowAnonymous: true,
    },
    clock: Date.now,
    logger: { info: quiet, warn: quiet, error: quiet },
    limits: { retryMs: 20 },
  });
  undo.push(() => ingest.stop());
  return { port, ingest };
}

/** A device that writes what it likes; `acks` are the identifiers of PUBACKs as they come. */
async function rawDevice(ingest: Ingest, keepalive = 0) {
  const socket: Socket = connect(ingest.address.port, '127.0.0.1');
  undo.push(() => socket.destroy());
  const acks: number[] = [];
  let ended = false;
  const parser = mqttPacket.parser();
  const greeted = new Promise<void>((resolve) => {
    parser.on('packet', (packet: Packet) => {
      if (packet.cmd === 'connack') resolve();
      if (packet.cmd === 'puback') acks.push(packet.messageId ?? 0);
    });
  });
  socket.on('data', (chunk: Buffer) => parser.parse(chunk));
  socket.on('close', () => {
    ended = true;
  });
  socket.on('error', () => undefined);
  socket.write(mqttPacket.generate({ cmd: 'connect', clientId: 'raw', keepalive, clean: true }));
  await greeted;
  const reading = (id: number, retain = false): Buffer =>
    mqttPacket.generate({
      ...publish(
        'welcomb/scale-1/weight',
        `{"value":${String(id % 50)},"time":${String(1_780_000_000 + id)}}`,
        1,
        { retain },
      ),
      messageId: id,
    });
  return { socket, acks, reading, ended: () => ended };
}
const ids = (count: number): number[] => Array.from({ length: count }, (_, at) => at + 1);

describe('a device on the embedded broker', () => {
  test('gets its acknowledgements in the order of its messages, whichever way they went', async () => {
    const { ingest, port } = await start();
    const { socket, acks, reading } = await rawDevice(ingest);
    for (let round = 0; round < 5; round += 1) {
      const from = acks.length;
      const some = ids(40).map((id) => from + id);
      socket.write(Buffer.concat(some.map((id) => reading(id, id % 13 === 0))));
      await until(() => acks.length === from + 40);
    }
    expect(acks).toEqual(ids(200));
    expect(port.batches.flatMap(({ readings }) => readings)).toHaveLength(200);
  });

  test('is not cut off for silence while it sends readings alone', { timeout: 15_000 }, async () => {
    const { ingest } = await start();
    const { socket, acks, reading, ended } = await rawDevice(ingest, 1);
    for (const id of ids(40)) {
      socket.write(reading(id));
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
    expect(ended()).toBe(false);
    await until(() => acks.length === 40);
  });

  test('is read no further than one piece while nothing can be stored, and gets all of it afterwards', async () => {
    const { ingest, port } = await start();
    const { socket, acks, reading } = await rawDevice(ingest);
    // The first goes the long way; what follows at once does not.
    socket.write(reading(1));
    await until(() => acks.length === 1);
    port.failure = new Error('disk full.');
    const all = ids(30_000).map((id) => reading(id + 1));
    socket.write(Buffer.concat(all));
    await until(() => ingest.status().store.state === 'unavailable');
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(ingest.status().pending).toBeLessThan(5000);
    expect(acks).toEqual([1]);
    port.failure = undefined;
    await until(() => acks.length === 30_001);
    expect(acks).toEqual(ids(30_001));
    expect(port.batches.flatMap(({ readings }) => readings)).toHaveLength(30_001);
  });

  test('is heard by who subscribes from that moment on', async () => {
    const { ingest } = await start();
    const { socket, acks, reading } = await rawDevice(ingest);
    for (const id of ids(5)) socket.write(reading(id));
    await until(() => acks.length === 5);
    const listener = await mqtt.connectAsync(`mqtt://127.0.0.1:${String(ingest.address.port)}`);
    undo.push(() => listener.endAsync(true));
    const heard: string[] = [];
    listener.on('message', (topic) => heard.push(topic));
    await listener.subscribeAsync('welcomb/#', { qos: 1 });
    for (const id of ids(5)) socket.write(reading(id + 5));
    await until(() => heard.length === 5);
  });
});
