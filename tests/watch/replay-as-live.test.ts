/** What a replay of stored history finds is what the watch raised when it happened. */
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { replayNuc } from '../../server/views/replay-nuc.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import type { Rule } from '../../server/rules/engine/rule.ts';
import { scenarios } from '../../simulator/scenarios.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { base } from '../scenarios/expectations.ts';
import { byInstant, iso, leadMs, watchedLive, type Told, type WatchedLive } from './support/watched-live.ts';

const { place, splitMs, everyMinutes, parameters } = base;
/** A weak nuc in cold weather: told of the cold night after night, and of its visits. */
const cold = {
  ...{ place, splitMs, everyMinutes, seed: 1, scenario: 'cold-snap' as const },
  parameters: Object.fromEntries(
    Object.entries(parameters).filter(([name]) => !Object.hasOwn(scenarios['cold-snap'].ranges, name)),
  ),
};

const replayed = (
  { store, farm, history: { nucId, splitMs: fromMs, endMs } }: WatchedLive,
  rules?: readonly Rule[],
) =>
  replayNuc(
    { store, book: farm.watch.book },
    { nucId, from: iso(fromMs - leadMs), to: iso(endMs), limits: {} },
    rules,
  );

const found = (answer: ReturnType<typeof replayed>): Told[] =>
  (answer?.items ?? [])
    .map(({ ruleId, subject, raisedAt, clearedAt, text }) => ({
      ruleId,
      about: subject.name,
      raisedAt,
      clearedAt,
      urgency: text,
    }))
    .sort(byInstant);

describe('a replay of what was watched live', () => {
  const folder = newFolder();
  let watched: WatchedLive;
  beforeAll(() => {
    watched = watchedLive(join(folder, 'welcomb.db'), 'cold-nuc', { ...cold, days: 3 });
  }, 120_000);
  afterAll(() => {
    watched.stop();
    dropFolder(folder);
  });

  it('finds the same alerts, raised and over at the same minute, with the same urgency', () => {
    const told = watched.told();
    expect(told.filter(({ ruleId }) => ruleId === 'brood-chilling').length).toBeGreaterThanOrEqual(2);
    expect(told.some(({ clearedAt }) => clearedAt !== null)).toBe(true);
    const answer = replayed(watched);
    expect(found(answer)).toEqual(told);
    expect(answer?.onlyReally).toEqual([]);
  });

  it('gives the same twice, with far fewer looks than there were minutes', () => {
    const first = replayed(watched);
    expect(replayed(watched)).toEqual(first);
    expect(first?.ticks).toBeLessThan((3 * 1440) / 6);
  });
});

describe('a replay of sensors that failed', () => {
  const nucId = 'faulty-nuc';
  const folder = newFolder();
  let watched: WatchedLive;
  beforeAll(() => {
    const faults = [
      { place: 'brood', kind: 'silent', fromDay: 0.3, untilDay: 0.55 },
      { place: 'brood', kind: 'stuck', fromDay: 0.7, untilDay: 2.3 },
      { place: 'brood', kind: 'power-on-85', fromDay: 2.6, untilDay: 3.2 },
      { place: 'scale', kind: 'stuck', fromDay: 0.2, untilDay: 1.5 },
      { place: 'battery', kind: 'battery-low', fromDay: 0 },
    ] as const;
    watched = watchedLive(
      join(folder, 'welcomb.db'),
      nucId,
      { ...cold, days: 5, faults },
      {
        asFlagged: (one) => (one.value === 85 ? { ...one, suspect: 'sentinel' } : one),
      },
    );
  }, 120_000);
  afterAll(() => {
    watched.stop();
    dropFolder(folder);
  });

  it('finds the same of each sensor at the same minute, and nothing of the nuc that it explained', () => {
    const told = watched.told();
    const answer = replayed(watched);
    expect(found(answer)).toEqual(told);
    expect(answer?.onlyReally).toEqual([]);
    expect(told.flatMap(({ ruleId, about }) => (about === nucId ? [] : `${ruleId}: ${about}`))).toEqual([
      'sensor-silent: faulty-nuc at faulty-nuc',
      'sensor-stuck: scale of faulty-nuc',
      'sensor-stuck: brood probe of faulty-nuc',
      'battery-low: faulty-nuc at faulty-nuc',
      'sensor-implausible: brood probe of faulty-nuc',
      'sensor-silent: faulty-nuc at faulty-nuc',
    ]);
    // Who believes the probe is told of a chilling more.
    const believed = found(
      replayed(
        watched,
        rules.filter(({ on }) => on === 'nuc'),
      ),
    );
    const chillings = (all: readonly Told[]): number =>
      all.filter(({ ruleId }) => ruleId === 'brood-chilling').length;
    expect(chillings(believed)).toBe(chillings(told) + 1);
  });
});

describe('a replay of nights that were foreseen', () => {
  const folder = newFolder();
  let watched: WatchedLive;
  /** From the second day on each hour a warm night is foretold, whatever comes. */
  const foretoldFromMs = splitMs + 86_400_000;
  const warm = (nowMs: number): Uint8Array =>
    new TextEncoder().encode(
      JSON.stringify(
        Array.from({ length: 40 }, (_, i) => ({ time: iso(nowMs + i * 3_600_000), temperature: 26 })),
      ),
    );
  beforeAll(() => {
    watched = watchedLive(
      join(folder, 'welcomb.db'),
      'foretold-nuc',
      { ...cold, days: 2 },
      {
        atMinute(farm, nowMs) {
          if (nowMs < foretoldFromMs || nowMs % 3_600_000 !== 0) return;
          const message = { topic: 'welcomb/$forecast', site: null, retain: false, receivedAtMs: nowMs };
          expect(farm.takeForecast({ ...message, payload: warm(nowMs) })).toBeNull();
        },
      },
    );
  }, 120_000);
  afterAll(() => {
    watched.stop();
    dropFolder(folder);
  });

  it('goes by the forecasts of its time, and warns of no night that was foretold as warm', () => {
    const told = watched.told();
    expect(found(replayed(watched))).toEqual(told);
    const warned = told.filter(({ ruleId }) => ruleId === 'chilling-tonight');
    expect(warned.length).toBeGreaterThan(0);
    expect(warned.every(({ raisedAt }) => Date.parse(raisedAt) <= foretoldFromMs)).toBe(true);
  });
});
