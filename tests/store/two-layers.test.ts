/** Whatever comes in whatever order, sealed whenever: the two layers answer as one plain table would. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { IncomingReading } from '../../server/store/port.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { sized } from '../support/size.ts';
import { day, hour, may1, minute, reading } from './support/made-up.ts';
import { OneTable } from './support/one-table.ts';
import { temporaryFolder } from './support/temporary-store.ts';

const sensors = ['n1', 'n2', 'n3'] as const;
const days = 4;

/** Few times and few values, so that duplicates and conflicts are common. */
const readingArbitrary: fc.Arbitrary<IncomingReading> = fc
  .record({
    sensor: fc.constantFrom(...sensors),
    atMs: fc.oneof(
      fc.integer({ min: 0, max: days * 288 - 1 }).map((n) => may1 + n * 5 * minute),
      fc.integer({ min: 0, max: days * 24 * 2 }).map((n) => may1 + n * 30 * minute - 1),
      fc.integer({ min: 0, max: 20 }).map((n) => may1 + day - 10 + n),
    ),
    value: fc.oneof(
      fc.constantFrom(20, 20.01, -0.000001, 34.0625),
      fc.double({ min: -60, max: 120, noNaN: true }),
    ),
    lateMs: fc.constantFrom(0, 200, hour, 3 * day),
    suspect: fc.option(fc.constantFrom('spike', 'sentinel', 'clock'), { nil: undefined, freq: 5 }),
  })
  .map(({ sensor, atMs, value, lateMs, suspect }) =>
    reading(atMs, value, { sensor, receivedAtMs: atMs + lateMs, ...(suspect ? { suspect } : {}) }),
  );

/** A device that tells all its channels at one unsteady instant, so that their times are worth sharing. */
const deviceArbitrary: fc.Arbitrary<IncomingReading[]> = fc
  .record({
    startMs: fc.integer({ min: 0, max: days - 1 }).map((n) => may1 + n * day),
    gaps: fc.array(fc.integer({ min: minute, max: 20 * minute }), { minLength: 40, maxLength: 60 }),
    sensors: fc.subarray([...sensors], { minLength: 2 }),
  })
  .map(({ startMs, gaps, sensors: told }) => {
    let atMs = startMs;
    return gaps.flatMap((gap) => {
      atMs += gap;
      return told.map((sensor) => reading(atMs, (gap % 977) / 100, { sensor }));
    });
  });

type Step =
  | { readonly do: 'commit'; readonly readings: readonly IncomingReading[] }
  | {
      readonly do: 'seal';
      readonly beforeDay: number;
      readonly mostDays: number;
      readonly mostAtOnce: number;
    }
  | { readonly do: 'reopen' };

const stepArbitrary: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      do: fc.constant('commit' as const),
      readings: fc.array(readingArbitrary, { maxLength: 40 }),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ do: fc.constant('commit' as const), readings: deviceArbitrary }),
  },
  {
    weight: 3,
    arbitrary: fc.record({
      do: fc.constant('seal' as const),
      beforeDay: fc.integer({ min: 0, max: days + 1 }),
      mostDays: fc.integer({ min: 1, max: 8 }),
      mostAtOnce: fc.constantFrom(1, 60, 200_000),
    }),
  },
  { weight: 1, arbitrary: fc.constant({ do: 'reopen' as const }) },
);

function expectSameAnswers(store: Store, table: OneTable, fromMs: number, toMs: number): void {
  for (const channel of store.channels.list()) {
    const { id: channelId, sensor } = channel;
    for (const includeSuspect of [true, false]) {
      const got = store.readings.query({ channelId, fromMs, toMs, resolution: 'raw', includeSuspect });
      const rows = Array.from(got.atMs, (atMs, i) => ({
        atMs,
        value: got.value[i],
        suspect: got.suspect[i] !== 0,
      }));
      expect(rows).toEqual(table.raw(sensor, fromMs, toMs, includeSuspect));
    }
    for (const [resolution, width] of [['hour', hour] as const, ['day', day] as const]) {
      const got = store.readings.query({ channelId, fromMs, toMs, resolution });
      const rows = Array.from(got.atMs, (atMs, i) => ({
        atMs,
        count: got.count[i],
        min: got.min[i],
        max: got.max[i],
        // Sums of decimals in another order: a few units in the last place.
        mean: expect.closeTo(got.mean[i]!, 9) as number,
        last: got.last[i],
      }));
      expect(table.buckets(sensor, fromMs, toMs, width)).toEqual(rows);
    }
    const latest = table.latest(sensor);
    expect(channel.readings).toBe(table.count(sensor));
    expect(channel.latest && { atMs: channel.latest.atMs, value: channel.latest.value }).toEqual(
      latest ? { atMs: latest.atMs, value: latest.value } : null,
    );
  }
}

/** No shared times without a day that uses them, no day whose shared times are missing. */
function expectSharedTimesCounted(file: string): void {
  const db = new Database(file, { readonly: true });
  const miscounted = db
    .prepare(
      `SELECT id FROM reading_times AS t WHERE uses <> (SELECT count(*) FROM reading_day WHERE times_id = t.id)
       UNION ALL SELECT id FROM reading_day WHERE times_id IS NOT NULL AND times_id NOT IN (SELECT id FROM reading_times)`,
    )
    .all();
  db.close();
  expect(miscounted).toEqual([]);
}

describe('two layers against one table', () => {
  test('every order of arrival, sealing and restart gives the same answers', () => {
    const folder = temporaryFolder();
    let run = 0;
    fc.assert(
      fc.property(
        fc.array(stepArbitrary, { minLength: 1, maxLength: 14 }),
        fc.tuple(fc.integer({ min: 0, max: days * 24 * 60 }), fc.integer({ min: 0, max: days * 24 * 60 })),
        (steps, [a, b]) => {
          const file = join(folder, `${String((run += 1))}.sqlite`);
          let store = openStore({ file });
          const table = new OneTable();
          try {
            for (const step of steps) {
              if (step.do === 'commit') {
                const got = store.ingest.commit({ readings: step.readings, quarantined: [], lastKnown: [] });
                expect({ ...got, stored: got.stored.length }).toEqual(table.commit(step.readings));
              } else if (step.do === 'seal') {
                store.readings.seal({
                  endedBeforeMs: may1 + step.beforeDay * day,
                  mostDays: step.mostDays,
                  mostAtOnce: step.mostAtOnce,
                });
              } else {
                store.close();
                store = openStore({ file });
              }
            }
            expect(
              store.channels
                .list()
                .map((channel) => channel.sensor)
                .sort(),
            ).toEqual(table.sensors().sort());
            expectSameAnswers(store, table, may1 - day, may1 + (days + 1) * day);
            expectSameAnswers(store, table, may1 + Math.min(a, b) * minute, may1 + Math.max(a, b) * minute);
            const conflicts = store.readings.conflicts().map(({ channelId, atMs, value, times }) => {
              const sensor = store.channels.get(channelId)?.sensor ?? '';
              return [`${sensor} ${String(atMs)} ${String(value)}`, times] as const;
            });
            expect(new Map(conflicts)).toEqual(table.conflicts);
            expectSharedTimesCounted(file);
          } finally {
            store.close();
          }
        },
      ),
      { numRuns: sized(40, 400), seed: 20260501 },
    );
  }, 300_000);
});
