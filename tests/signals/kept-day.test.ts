import { setImmediate } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { binMs, binsOf } from '../../server/signals/bins.ts';
import { daysBetween } from '../../server/signals/days.ts';
import { flightBetween } from '../../server/signals/drift/flight.ts';
import { KeptDay, laidOut, type NucDay } from '../../server/signals/kept-day.ts';
import { seriesOf } from '../../server/signals/series.ts';
import type { Series } from '../../server/signals/types.ts';
import { place } from './made.ts';

const dayMs = 86_400_000;

/** Memory of typed arrays that somebody still holds. */
async function bytesOfArrays(): Promise<number> {
  setFlagsFromString('--expose-gc');
  // What a collection frees is counted off some turns later.
  for (let turn = 0; turn < 5; turn++) {
    (runInNewContext('gc') as () => void)();
    await setImmediate();
  }
  return process.memoryUsage().arrayBuffers;
}

/** Readings at any instants of a day, or none. */
const readings = (fromMs: number, toMs: number, least: number, most: number): fc.Arbitrary<Series> =>
  fc
    .array(
      fc.record({
        atMs: fc.integer({ min: fromMs, max: toMs - 1 }),
        value: fc.double({ min: least, max: most, noNaN: true }),
      }),
      { maxLength: 400 },
    )
    .map(seriesOf);

/** Days of 23, 24, 24.5 and 25 hours, and one that begins within a bin. */
const days = [
  ['Europe/Berlin', '2026-03-29'],
  ['Europe/Berlin', '2026-06-01'],
  ['Australia/Lord_Howe', '2026-04-05'],
  ['Europe/Berlin', '2026-10-25'],
  ['Asia/Kathmandu', '2026-06-01'],
].map(([zone = '', date = '']) => {
  const near = daysBetween(zone, Date.parse(date) - dayMs, Date.parse(date) + dayMs);
  const day = near.find((one) => one.date === date);
  if (!day) throw new Error(`no ${date} in ${zone}`);
  return day;
});

describe('a kept day', () => {
  it.each(days)('tells of $date what was read of it, its numbers to 24 bits', (day) => {
    const { fromMs, toMs } = day;
    fc.assert(
      fc.property(
        readings(fromMs, toMs, -500_000, 500_000),
        readings(fromMs, toMs, -30, 60),
        readings(fromMs, toMs, -30, 60),
        (weight, brood, outside) => {
          const outsideBins = binsOf(outside);
          const read: NucDay = {
            day,
            weight: binsOf(weight),
            brood: binsOf(brood),
            outside: outsideBins,
            flight: flightBetween(place, fromMs, toMs, outsideBins),
            steps: [],
            broodDay: null,
          };
          const kept = new KeptDay(read, place);
          expect(kept.weight).toEqual({ ...read.weight, value: read.weight.value.map(Math.fround) });
          for (const name of ['brood', 'outside'] as const) {
            const { atMs, value } = read[name];
            expect(kept[name]).toEqual({ atMs, value: value.map(Math.fround) });
          }
          expect(kept.flight).toEqual({
            ...read.flight,
            activity: read.flight.activity.map(Math.fround),
            light: read.flight.light.map(Math.fround),
          });
          const { weight: ofWeight, brood: ofBrood, outside: ofOutside, flight } = kept;
          expect(laidOut(read)).toEqual({
            ...read,
            weight: ofWeight,
            brood: ofBrood,
            outside: ofOutside,
            flight,
          });
        },
      ),
      { numRuns: 30 },
    );
  });

  it('counts as many readings in a bin as a sensor of every second brings', () => {
    const day = days[1];
    if (!day) throw new Error('no day');
    const seconds = Array.from({ length: 600 }, (_, i) => ({ atMs: day.fromMs + i * 1000, value: 12_000 }));
    const none = binsOf(seriesOf([]));
    const flight = flightBetween(place, day.fromMs, day.toMs, none);
    const weight = binsOf(seriesOf(seconds));
    const kept = new KeptDay(
      { day, weight, brood: none, outside: none, flight, steps: [], broodDay: null },
      place,
    );
    expect([...kept.weight.atMs]).toEqual([day.fromMs + binMs / 2]);
    expect([...kept.weight.count]).toEqual([600]);
    expect(kept.outside.atMs).toHaveLength(0);
  });

  it('takes ten bytes a bin for weight and brood; the air around is kept once for all nucs of a place', async () => {
    const day = days[1];
    if (!day) throw new Error('no day');
    const bins = Array.from({ length: 144 }, (_, i) => ({ atMs: day.fromMs + (i + 0.5) * binMs, value: i }));
    const read = binsOf(seriesOf(bins));
    const flight = flightBetween(place, day.fromMs, day.toMs, read);
    const before = await bytesOfArrays();
    const told = { day, weight: read, brood: read, outside: read, flight, steps: [], broodDay: null };
    const kept = Array.from({ length: 200 }, () => new KeptDay(told, place));
    expect(((await bytesOfArrays()) - before) / kept.length).toBeLessThan(10 * 144 + 50);
    expect(kept.at(-1)?.flight).toEqual(kept[0]?.flight);
    const warmer = { ...read, value: read.value.map((v) => v + 20) };
    const other = new KeptDay({ ...told, outside: warmer }, place);
    expect([other.outside.value[0], kept[0]?.outside.value[0]]).toEqual([20, 0]);
  });
});
