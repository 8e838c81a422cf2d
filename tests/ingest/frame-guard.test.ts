import fc from 'fast-check';
import mqttPacket, { type Packet } from 'mqtt-packet';
import { expect, test } from 'vitest';
import { frameGuard, type Oversized } from '../../ingest/broker/frame-guard.ts';

const publish = (topic: string, payload: Buffer, qos: 0 | 1, messageId: number): Buffer =>
  mqttPacket.generate({ cmd: 'publish', topic, payload, qos, messageId, dup: false, retain: false });

test('what passes is what a parser would have got, however the stream is cut; the rest is told', () => {
  const message = fc.record({
    topic: fc.constantFrom('a', 'welcomb/scale-1/weight'),
    size: fc.oneof(fc.nat(150), fc.integer({ min: 150, max: 9000 })),
    qos: fc.constantFrom(0 as const, 1 as const),
  });
  fc.assert(
    fc.property(
      fc.array(message, { maxLength: 12 }),
      fc.array(fc.integer({ min: 1, max: 4000 })),
      (messages, cuts) => {
        const packets = messages.map(({ topic, size, qos }, at) =>
          publish(topic, Buffer.alloc(size, 49), qos, at + 1),
        );
        const stream = Buffer.concat(packets);
        const told: Oversized[] = [];
        const guard = frameGuard(
          200,
          () => false,
          (packet) => told.push(packet),
        );
        const passed: Buffer[] = [];
        let at = 0;
        for (const cut of [...cuts, stream.length]) {
          if (at >= stream.length) break;
          passed.push(Buffer.from(guard.pass(stream.subarray(at, at + cut))));
          at += cut;
        }
        expect(Buffer.concat(passed)).toEqual(
          Buffer.concat(packets.filter((packet) => packet.length <= 200)),
        );
        const large = messages.flatMap(({ topic, size, qos }, index) =>
          (packets[index]?.length ?? 0) > 200
            ? [{ topic, qos, messageId: qos === 1 ? index + 1 : undefined, payloadBytes: size }]
            : [],
        );
        expect(told.map(({ publish: found }) => ({ ...found, head: undefined }))).toEqual(
          large.map((each) => ({ ...each, head: undefined })),
        );
        for (const { publish: found } of told) {
          expect(found?.head.length).toBe(Math.min(4096, found?.payloadBytes ?? 0));
          expect(found?.head.every((byte) => byte === 49)).toBe(true);
        }
      },
    ),
    { numRuns: 500, seed: 11 },
  );
});

test('properties of MQTT 5 are not taken for the payload', () => {
  const packet: Packet = {
    cmd: 'publish',
    topic: 't',
    payload: Buffer.alloc(500, 50),
    qos: 1,
    messageId: 9,
    dup: false,
    retain: false,
    properties: { contentType: 'text/plain', userProperties: { a: 'b' } },
  };
  const told: Oversized[] = [];
  frameGuard(
    100,
    () => true,
    (found) => told.push(found),
  ).pass(mqttPacket.generate(packet, { protocolVersion: 5 }));
  expect(told[0]?.publish).toMatchObject({ topic: 't', messageId: 9, payloadBytes: 500 });
  expect(told[0]?.publish?.head.every((byte) => byte === 50)).toBe(true);
});

test('an oversized packet that is no PUBLISH is told without one', () => {
  const told: Oversized[] = [];
  const hello = mqttPacket.generate({ cmd: 'connect', clientId: 'x'.repeat(300) });
  frameGuard(
    100,
    () => false,
    (found) => told.push(found),
  ).pass(hello);
  expect(told).toEqual([{ bytes: hello.length }]);
});

test('arbitrary bytes never throw', () => {
  fc.assert(
    fc.property(fc.array(fc.uint8Array({ maxLength: 200 })), (chunks) => {
      const guard = frameGuard(
        64,
        () => true,
        () => undefined,
      );
      for (const chunk of chunks) guard.pass(Buffer.from(chunk));
    }),
    { numRuns: 1000, seed: 5 },
  );
});
