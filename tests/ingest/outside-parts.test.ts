/** Pauses, first receipts and refused topics of the outside broker, each by itself. */
import { describe, expect, test } from 'vitest';
import { Backoff } from '../../ingest/broker/backoff.ts';
import { FirstReceipts } from '../../ingest/broker/first-receipts.ts';
import { brokerAddress } from '../../ingest/broker/open-connection.ts';
import { RefusedTopics } from '../../ingest/broker/refused-topics.ts';

describe('the pause before the next attempt', () => {
  test('doubles to the longest, and begins anew only after a connection that stood as long', () => {
    const backoff = new Backoff(1000, 5000);
    expect([0, 0, 0, 0, 0].map((lasted) => backoff.pauseMs(lasted))).toEqual([1000, 2000, 4000, 5000, 5000]);
    expect(backoff.pauseMs(4999)).toBe(5000);
    expect(backoff.pauseMs(5000)).toBe(1000);
    expect(backoff.pauseMs(10)).toBe(2000);
  });
});

describe('the first receipt of a message', () => {
  const message = { topic: 'welcomb/scale-1/weight', payload: Buffer.from('12.5'), messageId: 7, dup: false };

  test('is kept where it comes again marked as sent before', () => {
    const receipts = new FirstReceipts();
    const first = receipts.of(message);
    first.atMs = 1000;
    expect(receipts.of({ ...message, dup: true }).atMs).toBe(1000);
    expect(receipts.of({ ...message, dup: true }).atMs).toBe(1000);
  });

  test.each([
    ['not marked', { dup: false }],
    ['of another identifier', { messageId: 8 }],
    ['of an identifier that shares its place', { messageId: 7 + 4096 }],
    ['of another topic', { topic: 'welcomb/scale-2/weight' }],
    ['of another content', { payload: Buffer.from('12.6') }],
  ])('is a new one for a message %s', (_what, other) => {
    const receipts = new FirstReceipts();
    receipts.of(message).atMs = 1000;
    expect(receipts.of({ ...message, dup: true, ...other }).atMs).toBeUndefined();
  });

  test('is forgotten with the session', () => {
    const receipts = new FirstReceipts();
    receipts.of(message).atMs = 1000;
    receipts.clear();
    expect(receipts.of({ ...message, dup: true }).atMs).toBeUndefined();
  });
});

describe('a topic is refused', () => {
  const soon = { topic: 'a', ageMs: 5 };

  test('once the broker said that it is not allowed, and told once', () => {
    const refused = new RefusedTopics();
    expect(refused.onRefusal('a', 0x87)).toBe(true);
    expect(refused.onRefusal('a', 0x87)).toBe(false);
    expect([refused.has('a'), refused.has('b')]).toEqual([true, false]);
  });

  test('not for a reason that passes', () => {
    const refused = new RefusedTopics();
    expect(refused.onRefusal('a', 0x97)).toBe(false);
    expect(refused.has('a')).toBe(false);
  });

  test('when the connection ends twice in a row on it', () => {
    const refused = new RefusedTopics();
    expect(refused.onClosed(soon)).toBeUndefined();
    expect(refused.has('a')).toBe(false);
    expect(refused.onClosed(soon)).toBe('a');
    expect(refused.has('a')).toBe(true);
  });

  test.each<[string, (refused: RefusedTopics) => unknown]>([
    [
      'it was accepted in between',
      (refused) => {
        refused.onAccepted('a');
      },
    ],
    ['another one was not answered in between', (refused) => refused.onClosed({ topic: 'b', ageMs: 5 })],
    ['everything was answered in between', (refused) => refused.onClosed(undefined)],
  ])('not where %s', (_what, between) => {
    const refused = new RefusedTopics();
    refused.onClosed(soon);
    between(refused);
    expect(refused.onClosed(soon)).toBeUndefined();
  });

  test('not where the connection had stood long after it was sent', () => {
    const refused = new RefusedTopics();
    refused.onClosed({ topic: 'a', ageMs: 60_000 });
    expect(refused.onClosed({ topic: 'a', ageMs: 60_000 })).toBeUndefined();
  });
});

test.each([
  ['mqtt://hub.example', 'hub.example', 1883],
  ['mqtts://hub.example', 'hub.example', 8883],
  ['ws://hub.example/mqtt', 'hub.example', 80],
  ['wss://hub.example:9443', 'hub.example', 9443],
  ['mqtt://[::1]:1884', '::1', 1884],
])('the address %s is host %s and port %i', (text, host, port) => {
  expect(brokerAddress(text)).toMatchObject({ host, port });
});
