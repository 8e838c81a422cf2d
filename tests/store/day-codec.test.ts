/** Sealed days give back what went in, to the millisecond and the millionth, and are as small as they should be. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeDay, encodeDay } from '../../server/store/readings/day-codec.ts';
import { DayBuffer, type DayReadings } from '../../server/store/readings/day-readings.ts';
import { decodeHours, encodeHours, HourColumns, hoursOf } from '../../server/store/readings/rollup.ts';
import { day, may1, minute } from './support/made-up.ts';

const plain = (readings: DayReadings): number[][] =>
  Array.from({ length: readings.length }, (_, i) => [
    readings.atMs[i]!,
    readings.micro[i]!,
    readings.flag[i]!,
    readings.receivedS[i]!,
  ]);

function dayOfRows(rows: readonly (readonly number[])[]): DayBuffer {
  const buffer = new DayBuffer();
  for (const [atMs, micro, flag = 0, receivedS = 0] of rows) buffer.insert(atMs!, micro!, flag, receivedS);
  return buffer;
}

/** Largest magnitude that the store takes: 100,000 units in millionths. */
const largest = 1e11;
const rowArbitrary = fc.tuple(
  fc
    .oneof(
      fc.integer({ min: 0, max: day - 1 }),
      fc.integer({ min: 0, max: 1439 }).map((n) => n * minute),
    )
    .map((ms) => may1 + ms),
  fc.oneof(
    fc.integer({ min: -largest, max: largest }),
    fc.integer({ min: -500, max: 500 }).map((n) => n * 62_500),
    fc.constantFrom(-largest, largest, 0),
  ),
  fc.oneof(
    { weight: 5, arbitrary: fc.constant(0) },
    { weight: 1, arbitrary: fc.integer({ min: 1, max: 6 }) },
  ),
  fc.oneof(
    { weight: 5, arbitrary: fc.constant(0) },
    { weight: 1, arbitrary: fc.integer({ min: 1, max: 2 ** 32 - 1 }) },
  ),
);

describe('a sealed day', () => {
  test('gives back every reading exactly', () => {
    fc.assert(
      fc.property(fc.array(rowArbitrary, { minLength: 1, maxLength: 400 }), (rows) => {
        const readings = dayOfRows(rows);
        expect(plain(decodeDay(encodeDay(readings, may1), may1))).toEqual(plain(readings));
      }),
      { numRuns: 400, seed: 1 },
    );
  });

  test('of a steady sensor takes under a byte a reading', () => {
    // A probe that tells hundredths of a degree every five minutes and wavers by one or two of them.
    const rows = Array.from({ length: 288 }, (_, i) => [
      may1 + i * 5 * minute,
      34_000_000 + Math.round(60 * Math.sin(i / 40)) * 10_000 + ((i * 7919) % 3) * 10_000,
    ]);
    expect(encodeDay(dayOfRows(rows), may1).length).toBeLessThan(288);
  });

  test('does not pay for one wild value with every other', () => {
    const steady = Array.from({ length: 288 }, (_, i) => [
      may1 + i * 5 * minute,
      20_000_000 + (i % 2) * 10_000,
    ]);
    const wild = steady.map(([at, micro], i) => [at!, i === 100 ? 85_000_000 : micro!]);
    const cost = encodeDay(dayOfRows(wild), may1).length - encodeDay(dayOfRows(steady), may1).length;
    expect(cost).toBeLessThan(40);
  });

  test('of bytes that are none is refused', () => {
    expect(() => decodeDay(new Uint8Array([0xff, 1, 2]), may1)).toThrow(RangeError);
    const whole = encodeDay(
      dayOfRows([
        [may1, 1],
        [may1 + 5, 900],
        [may1 + 700, -3],
      ]),
      may1,
    );
    expect(() => decodeDay(whole.subarray(0, whole.length - 2), may1)).toThrow(RangeError);
  });

  test('arbitrary bytes either decode or are refused, and never hang', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
        try {
          decodeDay(bytes, may1);
        } catch (error) {
          expect(error).toBeInstanceOf(RangeError);
        }
      }),
      { numRuns: 1000, seed: 2 },
    );
  });
});

test('roll-ups of a day give back every hour exactly', () => {
  const columns = new HourColumns();
  fc.assert(
    fc.property(fc.array(rowArbitrary, { maxLength: 300 }), (rows) => {
      const hours = hoursOf(dayOfRows(rows), may1);
      decodeHours(encodeHours(hours), columns);
      const { length, hour, count, min, max, sum, last } = columns;
      const back = Array.from({ length }, (_, i) => ({
        hour: hour[i],
        count: count[i],
        min: min[i],
        max: max[i],
        sum: sum[i],
        last: last[i],
      }));
      expect(back).toEqual(hours);
    }),
    { numRuns: 300, seed: 3 },
  );
});
