import { Duplex } from 'node:stream';
import fc from 'fast-check';
import mqttPacket, { type Packet } from 'mqtt-packet';
import { expect, test } from 'vitest';
import { AcknowledgementGate } from '../../ingest/broker/acknowledgement-gate.ts';

const puback = (messageId: number): Buffer =>
  mqttPacket.generate({ cmd: 'puback', messageId }, { protocolVersion: 4 });
const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** A connection that remembers what was written to it. */
function connection() {
  const written: Buffer[] = [];
  const stream = new Duplex({
    read: () => undefined,
    write(chunk: Buffer, _encoding, done) {
      written.push(chunk);
      done();
    },
  });
  return { stream, sent: () => Buffer.concat(written), pieces: () => written.length };
}

const packet = fc.oneof(
  fc.integer({ min: 1, max: 65_535 }).map((messageId): Packet => ({ cmd: 'puback', messageId })),
  fc.constant<Packet>({ cmd: 'pingreq' }),
  fc.tuple(fc.integer({ min: 1, max: 65_535 }), fc.nat(300)).map(([messageId, size]): Packet => ({
    cmd: 'publish',
    topic: 'welcomb/$server/online',
    payload: Buffer.alloc(size, 0x40),
    qos: 1,
    messageId,
    dup: false,
    retain: true,
  })),
);

test('everything but a PUBACK passes as it is, however the client cuts what it writes', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(packet, { maxLength: 20 }),
      fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1 }),
      async (packets, cuts) => {
        const { stream, sent } = connection();
        const gate = new AcknowledgementGate(stream, (chunk) => chunk);
        const bytes = packets.map((one) => mqttPacket.generate(one, { protocolVersion: 5 }));
        const all = Buffer.concat(bytes);
        for (let at = 0, cut = 0; at < all.length; cut += 1) {
          const length = cuts[cut % cuts.length] ?? 1;
          gate.write(all.subarray(at, at + length));
          at += length;
        }
        await turn();
        expect(sent()).toEqual(Buffer.concat(bytes.filter((_, at) => packets[at]?.cmd !== 'puback')));
        gate.destroy();
      },
    ),
    { numRuns: 200, seed: 5 },
  );
});

test('a PUBACK waits for its release, and leaves in the order in which the messages came', async () => {
  const { stream, sent, pieces } = connection();
  const gate = new AcknowledgementGate(stream, (chunk) => chunk);
  const [first, second, third] = [gate.hold(11), gate.hold(12), gate.hold(13)];
  for (const id of [11, 12, 13]) gate.write(puback(id));
  await turn();
  expect(sent()).toHaveLength(0);
  second?.();
  await turn();
  expect(sent()).toHaveLength(0);
  first?.();
  await turn();
  expect(sent()).toEqual(Buffer.concat([puback(11), puback(12)]));
  expect(pieces()).toBe(1);
  third?.();
  await turn();
  expect(sent()).toEqual(Buffer.concat([puback(11), puback(12), puback(13)]));
});

test('a release after the connection ended writes nothing', async () => {
  const { stream, sent } = connection();
  const gate = new AcknowledgementGate(stream, (chunk) => chunk);
  const release = gate.hold(1);
  gate.destroy();
  release();
  await turn();
  expect(sent()).toHaveLength(0);
  expect(stream.destroyed).toBe(true);
});

test('what comes in stops while the client does not read, and goes on when it does', async () => {
  const { stream } = connection();
  const gate = new AcknowledgementGate(stream, (chunk) => chunk);
  const piece = Buffer.alloc(64 * 1024, 1);
  for (let count = 0; count < 4; count += 1) stream.push(piece);
  await turn();
  expect(stream.isPaused()).toBe(true);
  let read = 0;
  gate.on('data', (chunk: Buffer) => {
    read += chunk.length;
  });
  for (let turns = 0; turns < 20 && read < 4 * piece.length; turns += 1) await turn();
  expect(read).toBe(4 * piece.length);
});
