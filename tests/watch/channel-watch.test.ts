/** What is known of a channel's health: the rhythm it was learnt to have, when it last spoke, where its battery goes. */
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { watchChannels } from '../../server/watch/channel-watch.ts';
import { batteryLow } from '../../server/rules/catalogue/sensors/battery-low.ts';
import type { IncomingReading } from '../../server/store/port.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { deviceInput } from '../rules/made-up.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const minuteMs = 60_000;
const dayMs = 1440 * minuteMs;
const nowMs = Date.UTC(2026, 4, 20, 12);
let folder = '';
let store: Store;
const open = (): Store => openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs });
beforeEach(() => {
  folder = newFolder();
  store = open();
});
afterEach(() => {
  store.close();
  dropFolder(folder);
});

function commit(quantity: 'weight' | 'battery', points: readonly (readonly [atMs: number, value: number])[]) {
  const unit = quantity === 'weight' ? 'kg' : '%EL';
  const readings = points.map(([atMs, value]): IncomingReading => ({
    sensor: 'scale-1',
    quantity,
    probe: '',
    unit,
    value,
    observedAtMs: atMs,
    receivedAtMs: atMs,
  }));
  return store.ingest.commit({ readings, quarantined: [], lastKnown: [] });
}

function health(watch = watchChannels(store), atMs = nowMs) {
  const channel = store.channels.list()[0];
  if (!channel) throw new Error('no channel');
  return watch.health(channel, 'scale', atMs);
}

describe('the rhythm of a channel', () => {
  const every = (minutes: number, count: number, untilMs: number): [number, number][] =>
    Array.from({ length: count }, (_, i) => [untilMs - (count - 1 - i) * minutes * minuteMs, 12 + i / 1000]);

  it('is learnt from what it sends, and learnt again when it changes', () => {
    commit('weight', every(10, 30, nowMs - dayMs / 4));
    const watch = watchChannels(store);
    expect(health(watch).expectedIntervalMs).toBe(10 * minuteMs);
    const slower = commit('weight', every(30, 60, nowMs + 2 * dayMs));
    watch.note(slower.stored, nowMs);
    expect(health(watch, nowMs + 2 * dayMs).expectedIntervalMs).toBe(30 * minuteMs);
  });

  it('and the last time it spoke are known after a restart, though it was silent for a week', () => {
    const lastMs = nowMs - 7 * dayMs;
    commit('weight', every(10, 100, lastMs));
    const before = health();
    store.close();
    store = open();
    expect(health()).toEqual(before);
    expect(before).toMatchObject({ lastHeardMs: lastMs, expectedIntervalMs: 10 * minuteMs, readings24h: 0 });
  });
});

describe('a sensor whose clock goes two days back', () => {
  it('is not stuck: what it measures now is not known, and is once the clock is right again', () => {
    const every15 = (count: number, untilMs: number): [number, number][] =>
      Array.from({ length: count }, (_, i) => [
        untilMs - (count - 1 - i) * 15 * minuteMs,
        12 + (i % 9) / 1000,
      ]);
    commit('weight', every15(40, nowMs));
    const watch = watchChannels(store);
    expect(health(watch).unchangedSinceMs).toBe(nowMs);
    const laterMs = nowMs + dayMs;
    watch.note(commit('weight', every15(96, laterMs - 2 * dayMs + 7 * minuteMs)).stored, laterMs);
    expect(health(watch, laterMs)).toMatchObject({ lastHeardMs: laterMs, unchangedSinceMs: null });
    watch.note(commit('weight', [[laterMs + minuteMs, 12.5]]).stored, laterMs + minuteMs);
    expect(health(watch, laterMs + minuteMs).unchangedSinceMs).toBe(laterMs + minuteMs);
  });
});

describe('the smallest step of a scale', () => {
  /** A reading in ten minutes: it moved by 100 g, and has rested for so many hours since. */
  const rested = (hours: number): [number, number][] =>
    Array.from({ length: 6 * hours + 20 }, (_, i) => [
      nowMs - (6 * hours + 19 - i) * 10 * minuteMs,
      i < 10 ? 12.3 : i < 20 ? 12.5 : 12.4,
    ]);
  it('is the smallest change that was seen, in grams', () => {
    commit('weight', rested(5));
    expect(health().stepG).toBeCloseTo(100, 6);
  });
  it('is known after a restart, though it has rested for two days', () => {
    commit('weight', rested(50));
    expect(health().stepG).toBeCloseTo(100, 6);
    expect(health().unchangedSinceMs).toBe(nowMs - 300 * 10 * minuteMs + 10 * minuteMs);
  });
  it('rests since the last gap: what it did while nothing came is not known', () => {
    const before = rested(3).map(([at, kg]): [number, number] => [at - 20 * 60 * minuteMs, kg]);
    commit('weight', [...before, [nowMs, 12.4]]);
    expect(health().unchangedSinceMs).toBe(nowMs);
  });
  it('rests on where a sensor reads as seldom as that', () => {
    commit(
      'weight',
      Array.from({ length: 20 }, (_, i) => [nowMs - (19 - i) * 4 * 60 * minuteMs, i < 5 ? 12 + i : 17]),
    );
    expect(health().unchangedSinceMs).toBe(nowMs - 14 * 4 * 60 * minuteMs);
  });
  it('is not known of one that was never seen to change', () => {
    commit('weight', [[nowMs, 12]]);
    expect(health().stepG).toBeUndefined();
  });
});

describe('a clock that is behind', () => {
  const told = (watch: ReturnType<typeof watchChannels>, heardMs: number, ofMs: number) => {
    watch.note(commit('weight', [[ofMs, 12 + (ofMs % 7) / 1000]]).stored, heardMs);
    return health(watch, heardMs).behind;
  };
  it('is known from when on all that comes is of an hour ago or more, and no more once it tells of the present', () => {
    commit('weight', [[nowMs - 3 * dayMs, 12]]);
    const watch = watchChannels(store);
    expect(health(watch).behind).toBeUndefined();
    expect(told(watch, nowMs, nowMs - dayMs)).toEqual({ sinceMs: nowMs, tellsOfMs: nowMs - dayMs });
    const laterMs = nowMs + 4 * 60 * minuteMs;
    expect(told(watch, laterMs, laterMs - dayMs)).toEqual({ sinceMs: nowMs, tellsOfMs: laterMs - dayMs });
    expect(told(watch, laterMs + minuteMs, laterMs)).toBeUndefined();
  });
  it('is none where a store is sent that ends with the present', () => {
    commit('weight', [[nowMs - 3 * dayMs, 12]]);
    const watch = watchChannels(store);
    health(watch);
    const stored = commit(
      'weight',
      [9, 6, 3, 0].map((hours) => [nowMs - hours * 60 * minuteMs, 12 + hours / 100] as const),
    ).stored;
    watch.note(stored, nowMs);
    expect(health(watch).behind).toBeUndefined();
  });
});

describe('the trend of a battery', () => {
  /** Every two hours over so many days, down to `last` at `perDay`. */
  const falling = (days: number, perDay: number, last: number): [number, number][] =>
    Array.from({ length: days * 12 }, (_, i) => [
      nowMs - i * 2 * 60 * minuteMs,
      // Cold nights lower what it tells; a day's mean does not mind.
      last + (perDay * i) / 12 + Math.sin((i / 12) * 2 * Math.PI),
    ]);
  const days = (percentPerDay: number | null): number | undefined => {
    const told = batteryLow.evaluate(
      deviceInput({ batteryPercent: 24, batteryPercentPerDay: percentPerDay, lastHeardMs: nowMs }, nowMs),
      { percent: 15, daysLeft: 10, todayPct: 4 },
    );
    const seen = JSON.stringify(told);
    const found = /"value":(\d+),"unit":"d"/.exec(seen);
    return found ? Number(found[1]) : undefined;
  };

  it('is its loss a day, and what is left at that rate is told before it is low', () => {
    commit('battery', falling(14, 4, 24));
    const { batteryPercent, batteryPercentPerDay } = health();
    expect(batteryPercent).toBeCloseTo(24, 1);
    expect(batteryPercentPerDay).toBeGreaterThan(-4.4);
    expect(batteryPercentPerDay).toBeLessThan(-3.6);
    // 24 % at 4 % a day.
    expect([5, 6]).toContain(days(batteryPercentPerDay));
  });

  it('is not guessed from two days, and a steady battery has no end', () => {
    commit('battery', falling(1, 4, 60));
    expect(health().batteryPercentPerDay).toBeNull();
    expect(days(null)).toBeUndefined();
    commit(
      'battery',
      [3, 4, 5, 6, 7].map((back) => [nowMs - back * dayMs, 64]),
    );
    expect(Math.abs(health().batteryPercentPerDay ?? 99)).toBeLessThan(2);
  });
});
