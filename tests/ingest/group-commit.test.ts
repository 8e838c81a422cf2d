import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { groupCommit, defaultGroupLimits, type GroupLimits } from '../../ingest/group-commit.ts';
import type { IngestBatch } from '../../server/store/port.ts';
import { memoryPort } from './support/memory-port.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.restoreAllMocks();
  vi.useRealTimers();
});

const part = (value: number): IngestBatch => ({
  readings: [
    {
      sensor: 's',
      quantity: 'weight',
      probe: '',
      unit: 'kg',
      value,
      observedAtMs: value,
      receivedAtMs: value,
    },
  ],
  quarantined: [],
  lastKnown: [],
});

function start(limits: Partial<GroupLimits> = {}) {
  const port = memoryPort();
  const changes: string[] = [];
  const group = groupCommit(
    port,
    {
      ...defaultGroupLimits,
      maxBatch: 3,
      maxDelayMs: 5,
      maxPending: 6,
      retryMs: 100,
      maxRetryMs: 400,
      ...limits,
    },
    {
      onCommitted: () => undefined,
      onUnavailable: (error) => changes.push(error.message),
      onAvailable: () => changes.push('available'),
    },
  );
  const settled: [number, boolean][] = [];
  const add = (value: number, owner?: object): void => {
    group.add(part(value), (stored) => settled.push([value, stored]), owner);
  };
  return { port, group, settled, add, changes };
}

test('commits by count', () => {
  const { port, add, settled } = start();
  add(1);
  add(2);
  expect(settled).toEqual([]);
  add(3);
  expect(port.batches).toHaveLength(1);
  expect(settled).toEqual([
    [1, true],
    [2, true],
    [3, true],
  ]);
});

test('commits as soon as a turn of the event loop brings nothing more', () => {
  const { port, add, settled } = start({ maxBatch: 100 });
  add(1);
  add(2);
  expect(settled).toEqual([]);
  // Well before the longest delay: a sender that waits for its acknowledgement is not held up.
  vi.advanceTimersByTime(1);
  expect(port.batches).toHaveLength(1);
  expect(settled).toEqual([
    [1, true],
    [2, true],
  ]);
});

test('gathers while every turn brings more, and commits by time all the same', () => {
  const { port, add } = start({ maxBatch: 100, maxPending: 100 });
  let nowMs = 0;
  vi.spyOn(performance, 'now').mockImplementation(() => nowMs);
  const keepComing = (): void => {
    if (nowMs < 20) setImmediate(keepComing);
    add((nowMs += 1));
  };
  keepComing();
  vi.runAllTimers();
  // One a millisecond, and five of them at most in a group.
  expect(port.batches.map(({ readings }) => readings.length)).toEqual([6, 6, 6, 3]);
});

test('while nothing can be stored: nothing settled, ever longer pauses, one change each way, all in order', () => {
  const { port, add, settled, changes } = start();
  port.failure = new Error('disk full');
  add(1);
  add(2);
  vi.advanceTimersByTime(5 + 100 + 200 + 400 + 400);
  expect(port.attempts).toBe(5);
  add(3);
  add(4);
  expect(port.attempts).toBe(5);
  expect(settled).toEqual([]);
  port.failure = undefined;
  vi.advanceTimersByTime(400);
  expect(settled.map(([value]) => value)).toEqual([1, 2, 3, 4]);
  expect(settled.every(([, stored]) => stored)).toBe(true);
  expect(changes).toEqual(['disk full', 'available']);
});

test('holds no more than it may: the rest is refused, so that the sender keeps it', () => {
  const { port, add, settled, group } = start();
  port.failure = new Error('locked');
  for (let value = 1; value <= 8; value += 1) add(value);
  expect(group.pending()).toBe(6);
  expect(settled).toEqual([
    [7, false],
    [8, false],
  ]);
});

test('counts what a message brings: one of many readings is held like as many of one', () => {
  const { port, add, settled, group } = start();
  port.failure = new Error('locked');
  const [reading] = part(1).readings;
  const pack = { ...part(1), readings: Array.from({ length: 6 }, () => reading!) };
  const quarantined = {
    topic: 't',
    payload: new Uint8Array(),
    payloadBytes: 0,
    reason: 'r',
    receivedAtMs: 1,
  };
  for (const large of [pack, { ...part(1), readings: [], quarantined: [quarantined] }]) {
    const owner = {};
    group.add(large, () => undefined, owner);
    add(2);
    expect(settled.splice(0)).toEqual([[2, false]]);
    group.forget(owner);
    add(3, owner);
    expect(settled).toEqual([]);
    group.forget(owner);
    settled.splice(0);
  }
});

test('settles each message once and in order, though who is told brings the next ones at once', () => {
  const port = memoryPort();
  const group = groupCommit(
    port,
    { ...defaultGroupLimits, maxBatch: 3 },
    { onCommitted: () => undefined, onUnavailable: () => undefined, onAvailable: () => undefined },
  );
  const settled: number[] = [];
  let next = 0;
  const bring = (): void => {
    if (next === 30) return;
    const value = (next += 1);
    group.add(part(value), () => {
      settled.push(value);
      bring();
      bring();
    });
  };
  for (let each = 0; each < 3; each += 1) bring();
  vi.runAllTimers();
  expect(settled).toEqual(Array.from({ length: 30 }, (_, at) => at + 1));
  expect(port.batches.flatMap(({ readings }) => readings)).toHaveLength(30);
});

test('forgets what a broken connection will bring again, and settles it as not stored', () => {
  const { port, add, group, settled } = start();
  const [one, other] = [{}, {}];
  add(1, one);
  add(2, other);
  group.forget(one);
  expect(settled).toEqual([[1, false]]);
  vi.advanceTimersByTime(5);
  expect(port.batches.flatMap(({ readings }) => readings.map(({ value }) => value))).toEqual([2]);
});

test('goes on where the connection broke while nothing could be stored, and took along all that waited', () => {
  const { port, add, group, settled, changes } = start();
  port.failure = new Error('locked');
  const owner = {};
  add(1, owner);
  vi.advanceTimersByTime(5);
  group.forget(owner);
  vi.advanceTimersByTime(10_000);
  port.failure = undefined;
  add(1);
  vi.advanceTimersByTime(400);
  expect(settled).toEqual([
    [1, false],
    [1, true],
  ]);
  expect(changes).toEqual(['locked', 'available']);
});

test('stopping commits what waits; what can’t be stored is settled as not stored', () => {
  const fine = start();
  fine.add(1);
  fine.group.stop();
  expect(fine.settled).toEqual([[1, true]]);
  const broken = start();
  broken.port.failure = new Error('disk full');
  broken.add(1);
  broken.group.stop();
  broken.add(2);
  expect(broken.settled).toEqual([
    [1, false],
    [2, false],
  ]);
});
