/** A chart that is narrower than its hours: each pixel holds what the hours and days in it say, put together once more. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { commit, day, hour, may1, reading } from './support/made-up.ts';
import { temporaryStore } from './support/temporary-store.ts';

interface Wanted {
  readonly count: number;
  readonly sum: number;
  readonly min: number;
  readonly max: number;
}

const inHalfHours = fc.record({
  at: fc.integer({ min: 0, max: 40 * 48 }),
  value: fc.double({ min: -20, max: 60, noNaN: true }),
});

test('a bin has the mean of all readings of its hours and their lowest and highest, calibrated', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(inHalfHours, { minLength: 1, maxLength: 300, selector: ({ at }) => at }),
      fc.integer({ min: 0, max: 40 }),
      fc.constantFrom(1, -0.5),
      fc.constantFrom('hour', 'day'),
      fc.integer({ min: 5, max: 60 }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (readings, sealedDays, factor, resolution, pixels, into) => {
        const store = temporaryStore();
        commit(store, ...readings.map(({ at, value }) => reading(may1 + at * (hour / 2), value)));
        store.channels.calibrate(1, may1 + 9 * day + hour / 3, { kind: 'scale', factor });
        while (store.readings.seal({ endedBeforeMs: may1 + sealedDays * day }).more);
        const width = resolution === 'hour' ? hour : day;
        const fromMs = may1 - Math.floor(into * day);
        const toMs = fromMs + pixels * width * (2.1 + 5 * into);
        const bucketMs = (toMs - fromMs) / pixels;

        const whole = { channelId: 1, fromMs: Math.floor(fromMs / width) * width, toMs, resolution } as const;
        const stored = store.readings.query(whole);
        const wanted = new Map<number, Wanted>();
        stored.atMs.forEach((at, i) => {
          const [count, mean] = [stored.count[i] ?? 0, stored.mean[i] ?? 0];
          const [min, max] = [stored.min[i] ?? 0, stored.max[i] ?? 0];
          const bin = Math.max(0, Math.min(pixels - 1, Math.floor((at + width / 2 - fromMs) / bucketMs)));
          const before = wanted.get(bin) ?? { count: 0, sum: 0, min: Infinity, max: -Infinity };
          wanted.set(bin, {
            count: before.count + count,
            sum: before.sum + mean * count,
            min: Math.min(before.min, min),
            max: Math.max(before.max, max),
          });
        });

        const { atMs, mean, min, max } = store.readings.forWidth({ channelId: 1, fromMs, toMs, pixels });
        const drawn = [...mean.keys()].filter((i) => !Number.isNaN(mean[i]));
        expect(drawn).toHaveLength(wanted.size);
        for (const [n, [bin, one]] of [...wanted].sort(([a], [b]) => a - b).entries()) {
          const i = drawn[n] ?? -1;
          expect(atMs[i]).toBeCloseTo(fromMs + (bin + 0.5) * bucketMs, 0);
          expect(mean[i]).toBeCloseTo(one.sum / one.count, 6);
          expect([min[i], max[i]]).toEqual([one.min, one.max]);
        }
        store.close();
      },
    ),
    { numRuns: 25 },
  );
});

test('the reading at which the span begins is drawn, the one at which it ends is not', () => {
  const store = temporaryStore();
  const minute = hour / 60;
  const values = Array.from({ length: 1001 }, (_, i) => (i === 0 ? 500 : i === 1000 ? -500 : i / 100));
  commit(store, ...values.map((value, i) => reading(may1 + i * minute, value)));
  const { kind, max, min } = store.readings.forWidth({
    channelId: 1,
    fromMs: may1,
    toMs: may1 + 1000 * minute,
    pixels: 200,
  });
  expect([kind, max[0], max.length]).toEqual(['buckets', 500, 200]);
  expect(Math.min(...min)).toBeGreaterThan(0);
  store.close();
});
