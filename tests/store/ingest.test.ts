/** What one batch does: stored once, conflicts recorded, what can't be stored put aside, nothing thrown. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { mostChannels } from '../../server/store/channel-ids.ts';
import { materialLagMs } from '../../server/store/channels/ingest.ts';
import type { IncomingReading, QuarantinedMessage } from '../../server/store/port.ts';
import {
  quarantineMostATopic,
  quarantineMostBytes,
  quarantineMostRows,
} from '../../server/store/channels/quarantine.ts';
import { decodeHot, encodeHot, type HotReading } from '../../server/store/readings/hot-codec.ts';
import { commit, day, hour, may1, minute, reading } from './support/made-up.ts';
import { temporaryStore } from './support/temporary-store.ts';

const message = (
  topic: string,
  bytes: number,
  more: Partial<QuarantinedMessage> = {},
): QuarantinedMessage => ({
  topic,
  payload: new Uint8Array(bytes),
  payloadBytes: bytes,
  reason: 'it is no JSON',
  receivedAtMs: may1,
  ...more,
});

describe('a batch', () => {
  test('makes its channels, one a sensor, quantity, probe and unit', () => {
    const store = temporaryStore();
    commit(
      store,
      reading(may1, 34.5),
      reading(may1, 33, { probe: 'cage' }),
      reading(may1, 12.3, { quantity: 'weight', unit: 'kg' }),
      reading(may1, 80, { quantity: 'battery', unit: '%EL' }),
      reading(may1, 3.7, { quantity: 'battery', unit: 'V' }),
      reading(may1 + minute, 34.6),
    );
    expect(store.channels.list().map((c) => [c.id, c.quantity, c.probe, c.unit, c.latest?.value])).toEqual([
      [1, 'temperature', '', 'Cel', 34.6],
      [2, 'temperature', 'cage', 'Cel', 33],
      [3, 'weight', '', 'kg', 12.3],
      [4, 'battery', '', '%EL', 80],
      [5, 'battery', '', 'V', 3.7],
    ]);
  });

  test('tells what was stored, in its order, and counts the rest', () => {
    const store = temporaryStore();
    const result = commit(
      store,
      reading(may1 + minute, 20),
      reading(may1, 19),
      reading(may1, 19),
      reading(may1, 19.5),
      reading(may1 + 2 * minute, 85, { suspect: 'sentinel' }),
    );
    expect(result).toEqual({
      stored: [
        { channelId: 1, observedAtMs: may1 + minute, value: 20, suspect: false },
        { channelId: 1, observedAtMs: may1, value: 19, suspect: false },
        { channelId: 1, observedAtMs: may1 + 2 * minute, value: 85, suspect: true },
      ],
      duplicates: 1,
      conflicts: 1,
    });
    expect(store.ingest.counters()).toMatchObject({ received: 5, stored: 3, duplicates: 1, conflicts: 1 });
  });

  test('keeps the first of two values of one time, and records the other with how often it came', () => {
    const store = temporaryStore();
    commit(store, reading(may1, 19));
    commit(store, reading(may1, 19.5, { receivedAtMs: may1 + 7 }));
    commit(store, reading(may1, 19.5));
    store.readings.seal({ endedBeforeMs: may1 + 2 * day });
    expect(commit(store, reading(may1, 19.5), reading(may1, 19))).toMatchObject({
      duplicates: 1,
      conflicts: 1,
    });
    expect(store.readings.conflicts()).toEqual([
      { channelId: 1, atMs: may1, value: 19.5, receivedAtMs: may1 + 7, times: 3 },
    ]);
    expect(store.channels.get(1)?.latest?.value).toBe(19);
  });

  test('rounds to the millionth and no further', () => {
    const store = temporaryStore();
    commit(store, reading(may1, 18.055555555), reading(may1 + 1, -0.0000004), reading(may1 + 2, 0.1 + 0.2));
    expect(Array.from(store.readings.series(1, 0, may1 + day).value)).toEqual([18.055556, 0, 0.3]);
  });

  test('with a reading that can’t be stored puts that one aside and stores the others', () => {
    const store = temporaryStore();
    const impossible: Partial<IncomingReading>[] = [
      { value: NaN },
      { value: Infinity },
      { value: 1e9 },
      { observedAtMs: -1 },
      { observedAtMs: 1.5 },
      { observedAtMs: Date.UTC(2200, 0, 1) },
      { receivedAtMs: NaN },
    ];
    const result = commit(
      store,
      reading(may1, 1),
      ...impossible.map((more, i) => reading(may1 + i, 20, { sensor: `bad${String(i)}`, ...more })),
      reading(may1 + minute, 2),
    );
    expect(result.stored.map(({ value }) => value)).toEqual([1, 2]);
    expect(store.channels.list()).toHaveLength(1);
    expect(
      store.quarantine
        .list()
        .map(({ reason }) => reason)
        .sort(),
    ).toEqual(
      [
        'its time is not a whole millisecond between 1970 and 2106',
        'its time is not a whole millisecond between 1970 and 2106',
        'its time is not a whole millisecond between 1970 and 2106',
        'its time is not a whole millisecond between 1970 and 2106',
        'the value is beyond anything that a hive sensor can mean (100,000)',
        'the value is not a finite number',
        'the value is not a finite number',
      ].sort(),
    );
  });

  test('can’t make channels without end', () => {
    const store = temporaryStore();
    const flood = Array.from({ length: mostChannels + 3 }, (_, i) =>
      reading(may1, 1, { sensor: `s${String(i)}` }),
    );
    expect(commit(store, ...flood).stored).toHaveLength(mostChannels);
    expect(store.quarantine.list().map(({ reason }) => reason)).toContainEqual(
      expect.stringMatching(/too many channels/),
    );
    expect(commit(store, reading(may1 + 1, 2, { sensor: 's5' })).stored).toHaveLength(1);
  });

  test('remembers a retained value without making a reading of it', () => {
    const store = temporaryStore();
    const known = {
      sensor: 'n1',
      quantity: 'temperature',
      probe: '',
      unit: 'Cel',
      value: 21,
      receivedAtMs: may1,
    } as const;
    store.ingest.commit({ readings: [], quarantined: [], lastKnown: [known] });
    store.ingest.commit({
      readings: [],
      quarantined: [],
      lastKnown: [{ ...known, receivedAtMs: may1 + hour }],
    });
    expect(store.channels.get(1)).toMatchObject({
      latest: null,
      readings: 0,
      // The same value heard again is no news.
      lastKnown: { value: 21, receivedAtMs: may1 },
    });
  });
});

test('no batch whatever makes it throw, and what is stored is finite', () => {
  const store = temporaryStore();
  const wild = fc.oneof(fc.double(), fc.integer(), fc.constantFrom(may1, may1 + 0.5, NaN, Infinity, -0));
  const anyReading = fc.record({
    sensor: fc.string({ maxLength: 8 }),
    quantity: fc.constantFrom('weight' as const, 'temperature' as const),
    probe: fc.string({ maxLength: 3 }),
    unit: fc.constantFrom('kg' as const, 'Cel' as const),
    value: wild,
    observedAtMs: wild,
    receivedAtMs: wild,
  });
  const anyMessage = fc.record({
    topic: fc.string({ unit: 'binary' }),
    payload: fc.uint8Array(),
    payloadBytes: fc.nat(),
    reason: fc.string(),
    receivedAtMs: wild,
  });
  const batch = fc.record({
    readings: fc.array(anyReading),
    lastKnown: fc.array(anyReading),
    quarantined: fc.array(anyMessage),
  });
  fc.assert(
    fc.property(batch, (any) => {
      for (const { value } of store.ingest.commit(any).stored) expect(Number.isFinite(value)).toBe(true);
    }),
    { numRuns: 80, seed: 5 },
  );
});

describe('quarantine', () => {
  test('keeps one row a topic and reason, with the newest payload and how often it came', () => {
    const store = temporaryStore();
    store.quarantine.add([message('a', 3), message('a', 5, { receivedAtMs: may1 + 1 }), message('b', 1)]);
    expect(
      store.quarantine.list().map((m) => [m.topic, m.payload.length, m.times, m.receivedAtMs - may1]),
    ).toEqual([
      ['a', 5, 2, 1],
      ['b', 1, 1, 0],
    ]);
    expect(store.quarantine.removeTopic('a')).toBe(1);
  });

  test('is bounded a topic, so that one sensor with ever new bad values drives no other out', () => {
    const store = temporaryStore();
    store.quarantine.add([message('other', 1)]);
    const bad = Array.from({ length: 2 * quarantineMostRows }, (_, i) =>
      message('babbler', 1, { reason: `"${String(i)}x" is not a number`, receivedAtMs: may1 + i }),
    );
    for (let i = 0; i < bad.length; i += 100) store.quarantine.add(bad.slice(i, i + 100));
    const kept = store.quarantine.list();
    expect(kept.filter(({ topic }) => topic === 'other')).toHaveLength(1);
    const ofIt = kept.filter(({ topic }) => topic === 'babbler');
    expect(ofIt).toHaveLength(quarantineMostATopic);
    expect(ofIt.at(-1)?.receivedAtMs).toBe(may1 + 2 * quarantineMostRows - quarantineMostATopic);
  });

  test('is bounded in number and in bytes, the oldest go first', () => {
    const store = temporaryStore();
    store.quarantine.add(
      Array.from({ length: quarantineMostRows + 50 }, (_, i) =>
        message(`t${String(i)}`, 10, { receivedAtMs: may1 + i }),
      ),
    );
    const many = store.quarantine.list();
    expect(many).toHaveLength(quarantineMostRows);
    expect(many.at(-1)?.topic).toBe('t50');

    store.quarantine.add(
      Array.from({ length: 300 }, (_, i) =>
        message(`big${String(i)}`, 9000, { receivedAtMs: may1 + hour + i }),
      ),
    );
    const bytes = store.quarantine.list().reduce((sum, { payload }) => sum + payload.length, 0);
    expect(bytes).toBeLessThanOrEqual(quarantineMostBytes);
    expect(bytes).toBeGreaterThan(quarantineMostBytes * 0.9);
  });
});

test('what was received late keeps when, to the second', () => {
  const rows: HotReading[] = [
    { channelId: 3, atMs: may1, micro: 20_500_000, flag: 0, receivedS: 0 },
    { channelId: 70_000, atMs: may1 + day - 1, micro: -1, flag: 6, receivedS: 4_294_967_295 },
  ];
  expect(decodeHot(encodeHot(rows, may1), may1)).toEqual(rows);
  expect(materialLagMs).toBe(minute);
});

test('a row of the hot table gives back what went in', () => {
  const row = fc.record({
    channelId: fc.integer({ min: 1, max: 1_000_000 }),
    atMs: fc.integer({ min: may1, max: may1 + day - 1 }),
    micro: fc.oneof(
      fc.integer({ min: -1e11, max: 1e11 }),
      fc.integer({ min: -5000, max: 5000 }).map((n) => n * 10_000),
    ),
    flag: fc.integer({ min: 0, max: 6 }),
    receivedS: fc.constantFrom(0, 1, 1_777_777_777),
  });
  fc.assert(
    fc.property(fc.array(row, { maxLength: 200 }), (rows) => {
      expect(decodeHot(encodeHot(rows, may1), may1)).toEqual(rows);
    }),
    { numRuns: 200, seed: 4 },
  );
});
