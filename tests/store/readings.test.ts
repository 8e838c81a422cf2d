/** What is asked of readings: limits, suspects, calibration, a chart's width, a place's history, late data, age. */
import { describe, expect, test } from 'vitest';
import type { Store } from '../../server/store/store.ts';
import { columns, commit, day, hour, may1, minute, reading } from './support/made-up.ts';
import { temporaryStore } from './support/temporary-store.ts';

const all = { channelId: 1, fromMs: may1 - day, toMs: may1 + 100 * day };

/** A reading every `everyMs`, its value the number of hours since the beginning. */
function ramp(store: Store, count: number, everyMs: number, more: Parameters<typeof reading>[2] = {}): void {
  commit(
    store,
    ...Array.from({ length: count }, (_, i) => reading(may1 + i * everyMs, (i * everyMs) / hour, more)),
  );
}

describe('a query', () => {
  test('is half-open in time and says whether a limit cut it', () => {
    const store = temporaryStore();
    ramp(store, 10, hour);
    const span = { channelId: 1, fromMs: may1 + hour, toMs: may1 + 5 * hour, resolution: 'raw' } as const;
    expect(Array.from(store.readings.query(span).value)).toEqual([1, 2, 3, 4]);
    expect(store.readings.query({ ...span, limit: 4 }).more).toBe(false);
    const cut = store.readings.query({ ...span, limit: 3 });
    expect([Array.from(cut.value), cut.more]).toEqual([[1, 2, 3], true]);
    expect(Array.from(store.readings.query({ ...all, resolution: 'hour', limit: 2 }).mean)).toEqual([0, 1]);
  });

  test('of nothing is empty: unknown channel, empty span, span before the first reading', () => {
    const store = temporaryStore();
    ramp(store, 3, hour);
    for (const resolution of ['raw', 'hour', 'day'] as const) {
      expect(store.readings.query({ ...all, channelId: 99, resolution }).atMs).toHaveLength(0);
      expect(store.readings.query({ ...all, toMs: all.fromMs, resolution }).atMs).toHaveLength(0);
      expect(store.readings.query({ ...all, toMs: may1, resolution }).atMs).toHaveLength(0);
    }
  });

  test('leaves suspects out of series and roll-ups, and shows them with their reason where asked', () => {
    const store = temporaryStore();
    commit(store, reading(may1, 20), reading(may1 + 1, 85, { suspect: 'sentinel' }), reading(may1 + 2, 21));
    expect(Array.from(store.readings.series(1, 0, may1 + day).value)).toEqual([20, 21]);
    const raw = store.readings.query({ ...all, resolution: 'raw', includeSuspect: true });
    expect(columns(raw.value, raw.suspect)).toEqual([
      [20, 85, 21],
      [0, 1, 0],
    ]);
    const { max, count } = store.readings.query({ ...all, resolution: 'day' });
    expect(columns(max, count)).toEqual([[21], [2]]);
  });

  test('a day of nothing but suspects has no bucket', () => {
    const store = temporaryStore();
    commit(store, reading(may1, 85, { suspect: 'sentinel' }), reading(may1 + day, 20));
    store.readings.seal({ endedBeforeMs: may1 + 5 * day });
    expect(Array.from(store.readings.query({ ...all, resolution: 'day' }).atMs)).toEqual([may1 + day]);
    expect(Array.from(store.readings.query({ ...all, resolution: 'hour' }).atMs)).toEqual([may1 + day]);
  });
});

test('a late reading repairs the roll-ups of a sealed day, at once and after it is sealed again', () => {
  const store = temporaryStore();
  ramp(store, 48, hour);
  store.readings.seal({ endedBeforeMs: may1 + 2 * day });
  const lateAt = may1 + 5 * hour + 10 * minute;
  commit(store, reading(lateAt, 99, { receivedAtMs: may1 + 2 * day }));
  const expectRepaired = (): void => {
    const hours = store.readings.query({ ...all, resolution: 'hour' });
    const at = hours.atMs.indexOf(may1 + 5 * hour);
    expect([hours.count[at], hours.min[at], hours.max[at], hours.mean[at], hours.last[at]]).toEqual([
      2, 5, 99, 52, 99,
    ]);
    const days = store.readings.query({ ...all, resolution: 'day' });
    expect(columns(days.count, days.max)).toEqual([
      [25, 24],
      [99, 47],
    ]);
    expect(store.readings.series(1, lateAt, lateAt + 1).value[0]).toBe(99);
    expect(store.channels.get(1)?.latest?.value).toBe(47);
  };
  expectRepaired();
  expect(store.readings.seal({ endedBeforeMs: may1 + 2 * day })).toEqual({
    channelDays: 1,
    readings: 1,
    more: false,
  });
  expectRepaired();
});

describe('calibration', () => {
  const two = { kind: 'two-point', rawLow: 1, trueLow: 0, rawHigh: 11, trueHigh: 20 } as const;

  test('holds from its instant on and leaves what was sent as it is', () => {
    const store = temporaryStore();
    ramp(store, 6, hour);
    store.channels.calibrate(1, may1 + 2 * hour, { kind: 'offset', add: 0.5 });
    store.channels.calibrate(1, may1 + 4 * hour, { kind: 'offset', add: -1 });
    expect(Array.from(store.readings.series(1, 0, may1 + day).value)).toEqual([0, 1, 2.5, 3.5, 3, 4]);
    const raw = store.readings.query({ ...all, resolution: 'raw', calibrated: false });
    expect(Array.from(raw.value)).toEqual([0, 1, 2, 3, 4, 5]);
    expect(store.channels.get(1)?.latest).toMatchObject({ value: 4, rawValue: 5 });
  });

  test('a tare after a two-point calibration moves the zero and keeps the scale', () => {
    const store = temporaryStore();
    ramp(store, 5, hour);
    store.channels.calibrate(1, may1, two);
    store.channels.calibrate(1, may1 + 3 * hour, { kind: 'tare', rawNow: 3 });
    // Two points: 0 at raw 1, 2 a raw unit; tared at raw 3.
    expect(Array.from(store.readings.series(1, 0, may1 + day).value)).toEqual([-2, 0, 2, 0, 2]);
  });

  test('the same fact twice in a row is one; given again after another, it holds again', () => {
    const store = temporaryStore();
    ramp(store, 2, hour);
    const add = (by: number) => store.channels.calibrate(1, may1, { kind: 'offset', add: by });
    expect(add(1)).toEqual(add(1));
    expect(store.channels.calibrationsOf(1)).toHaveLength(1);
    add(2);
    add(1);
    expect(store.channels.calibrationsOf(1)).toHaveLength(3);
    expect(Array.from(store.readings.series(1, 0, may1 + day).value)).toEqual([1, 2]);
  });

  test('a scale factor keeps the zero; taking a fact back undoes it', () => {
    const store = temporaryStore();
    ramp(store, 3, hour);
    store.channels.calibrate(1, may1, { kind: 'tare', rawNow: 1 });
    const { id } = store.channels.calibrate(1, may1, { kind: 'scale', factor: 10 });
    expect(Array.from(store.readings.series(1, 0, may1 + day).value)).toEqual([-10, 0, 10]);
    expect(store.channels.removeCalibration(id)).toBe(true);
    expect(Array.from(store.readings.series(1, 0, may1 + day).value)).toEqual([-1, 0, 1]);
  });

  test.each([false, true])(
    'reaches roll-ups, exactly also in the hour in which it begins (sealed: %s)',
    (sealed) => {
      const store = temporaryStore();
      ramp(store, 8, 30 * minute);
      if (sealed) store.readings.seal({ endedBeforeMs: may1 + 2 * day });
      store.channels.calibrate(1, may1 + hour + 30 * minute, { kind: 'scale', factor: -2 });
      const { min, max, mean } = store.readings.query({ ...all, resolution: 'hour' });
      expect(columns(min, max, mean)).toEqual([
        [0, -3, -5, -7],
        [0.5, 1, -4, -6],
        [0.25, -1, -4.5, -6.5],
      ]);
      const days = store.readings.query({ ...all, resolution: 'day' });
      expect(columns(days.min, days.max, days.count)).toEqual([[-7], [1], [8]]);
    },
  );

  test('that is no straight line, or of no channel, is refused', () => {
    const store = temporaryStore();
    ramp(store, 1, hour);
    expect(() => store.channels.calibrate(1, may1, { ...two, rawHigh: two.rawLow })).toThrow(
      /no straight line/,
    );
    expect(() => store.channels.calibrate(1, may1, { kind: 'scale', factor: 0 })).toThrow(/no straight line/);
    expect(() => store.channels.calibrate(9, may1, { kind: 'offset', add: 1 })).toThrow(/no channel 9/);
    expect(store.channels.calibrationsOf(1)).toEqual([]);
  });
});

describe('a chart’s width', () => {
  test('gets every reading while they fit', () => {
    const store = temporaryStore();
    ramp(store, 100, minute);
    const got = store.readings.forWidth({
      channelId: 1,
      fromMs: may1,
      toMs: may1 + 100 * minute,
      pixels: 100,
    });
    expect([got.kind, got.bucketMs, got.atMs.length]).toEqual(['points', 0, 100]);
    expect(got.min).toEqual(got.mean);
  });

  test('gets no more than it can draw, with the extremes in it', () => {
    const store = temporaryStore();
    ramp(store, 5000, minute);
    commit(store, reading(may1 + 1234 * minute + 1, 500), reading(may1 + 4321 * minute + 1, -500));
    store.readings.seal({ endedBeforeMs: may1 + 3 * day });
    for (const [span, pixels] of [
      [5000 * minute, 200],
      [90 * day, 300],
      [900 * day, 300],
    ] as const) {
      const got = store.readings.forWidth({ channelId: 1, fromMs: may1, toMs: may1 + span, pixels });
      expect(got.kind).toBe('buckets');
      expect(got.atMs.length).toBeLessThanOrEqual(pixels * 2);
      expect(Math.max(...got.max)).toBe(500);
      expect(Math.min(...got.min)).toBe(-500);
      expect([...got.atMs]).toEqual([...got.atMs].sort((a, b) => a - b));
    }
  });

  test('shows a gap as a gap', () => {
    const store = temporaryStore();
    ramp(store, 60, minute);
    commit(store, ...Array.from({ length: 60 }, (_, i) => reading(may1 + 3 * hour + i * minute, 1)));
    const got = store.readings.forWidth({ channelId: 1, fromMs: may1, toMs: may1 + 4 * hour, pixels: 400 });
    const gaps = [...got.mean.keys()].filter((i) => Number.isNaN(got.mean[i]));
    expect(gaps).toEqual([60]);
    expect(got.atMs[60]).toBe(may1 + 2 * hour - minute / 2);
    const hours = store.readings.forWidth({ channelId: 1, fromMs: may1, toMs: may1 + 4 * hour, pixels: 16 });
    expect([...hours.mean].filter((mean) => Number.isNaN(mean))).toHaveLength(1);
  });
});

test('a place keeps its history when its sensor is replaced', () => {
  const store = temporaryStore();
  store.places.putSite({ id: 's', name: 'Meadow', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 9 });
  store.places.putHive({ id: 'h', siteId: 's', role: 'nuc', name: 'Nuc 1', box: {}, createdAtMs: may1 });
  ramp(store, 10, hour, { sensor: 'old' });
  ramp(store, 10, hour, { sensor: 'new' });
  const owner = { hiveId: 'h' };
  const changeMs = may1 + 4 * hour;
  store.places.assign({ channelId: 1, owner, position: 'brood', fromMs: may1, toMs: changeMs });
  store.places.assign({ channelId: 2, owner, position: 'brood', fromMs: changeMs, toMs: null });
  store.channels.calibrate(2, 0, { kind: 'offset', add: 100 });
  expect(store.places.stretches(owner, 'brood', may1, may1 + day)).toEqual([
    { channelId: 1, fromMs: may1, toMs: changeMs },
    { channelId: 2, fromMs: changeMs, toMs: may1 + day },
  ]);
  const series = store.readings.placeSeries(owner, 'brood', may1 + 2 * hour, may1 + 7 * hour);
  expect(columns(series.value)).toEqual([[2, 3, 104, 105, 106]]);
  expect(store.readings.placeSeries(owner, 'cage', 0, may1 + day).atMs).toHaveLength(0);
});

describe('age', () => {
  const raw = { ...all, resolution: 'raw' } as const;

  test('roll-ups outlive raw readings, and a reading of a dropped day is put aside, not counted twice', () => {
    const store = temporaryStore();
    ramp(store, 5 * 24, hour);
    store.places.putSite({ id: 's', name: 'Meadow', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 9 });
    store.places.assign({
      channelId: 1,
      owner: { siteId: 's' },
      position: 'outside',
      fromMs: may1,
      toMs: null,
    });
    // One reading came late and still stands in the hot layer of a day that is dropped.
    store.readings.seal({ endedBeforeMs: may1 + 4 * day });
    commit(store, reading(may1 + 90 * minute, 7));
    expect(store.expire({ rawBeforeMs: may1 + 3 * day, unassignedBeforeMs: 0 })).toEqual({
      channelDays: 3,
      channels: 0,
    });
    expect(store.readings.query(raw).atMs[0]).toBe(may1 + 3 * day);
    const days = store.readings.query({ ...all, resolution: 'day' });
    expect(Array.from(days.count)).toEqual([25, 24, 24, 24, 24]);

    expect(commit(store, reading(may1 + hour, 1)).stored).toEqual([]);
    expect(store.quarantine.list()[0]?.reason).toMatch(/older than the raw readings that are kept/);
    expect(Array.from(store.readings.query({ ...all, resolution: 'day' }).count)).toEqual([
      25, 24, 24, 24, 24,
    ]);
  });

  test('what nobody ever assigned goes whole, its empty channel too', () => {
    const store = temporaryStore({ nowMs: () => may1 });
    ramp(store, 48, hour, { sensor: 'stray' });
    ramp(store, 10 * 24, hour, { sensor: 'kept' });
    expect(store.expire({ rawBeforeMs: 0, unassignedBeforeMs: may1 + 5 * day })).toEqual({
      channelDays: 7,
      channels: 1,
    });
    expect(store.channels.list().map(({ sensor }) => sensor)).toEqual(['kept']);
    expect(Array.from(store.readings.query({ ...all, channelId: 2, resolution: 'day' }).atMs)).toEqual(
      [5, 6, 7, 8, 9].map((n) => may1 + n * day),
    );
    // It may come back.
    expect(commit(store, reading(may1 + 20 * day, 1, { sensor: 'stray' })).stored).toHaveLength(1);
  });

  test('a past season that was just brought in waits to be assigned like any other', () => {
    const store = temporaryStore();
    ramp(store, 10 * 24, hour, { receivedAtMs: may1 + 200 * day });
    expect(store.expire({ rawBeforeMs: 0, unassignedBeforeMs: may1 + 140 * day })).toEqual({
      channelDays: 0,
      channels: 0,
    });
    expect(store.readings.query(raw).atMs).toHaveLength(240);
  });
});

test('a store that another connection reads sees what was committed and sealed since', () => {
  const store = temporaryStore();
  ramp(store, 3, hour);
  const other = temporaryStore({ file: store.file });
  expect(other.channels.get(1)?.readings).toBe(3);
  commit(store, reading(may1 + day, 9));
  store.readings.seal({ endedBeforeMs: may1 + day });
  expect(other.readings.query({ ...all, resolution: 'raw' }).atMs).toHaveLength(4);
  expect(commit(other, reading(may1 + hour, 1)).duplicates).toBe(1);
  commit(other, reading(may1 + hour + 1, 1));
  expect(store.readings.query({ ...all, resolution: 'raw' }).atMs).toHaveLength(5);
});
