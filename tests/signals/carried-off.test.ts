/** Weight that goes by daylight and is not bees that left together. */
import { describe, expect, it } from 'vitest';
import { binsOf } from '../../server/signals/bins.ts';
import { flightBetween } from '../../server/signals/drift/flight.ts';
import { seriesOf } from '../../server/signals/series.ts';
import type { MassDeparture, Series, WeightStep } from '../../server/signals/types.ts';
import { isSure, massDepartures } from '../../server/signals/weight/mass-departure.ts';
import { dayMs, hourMs, made, midnight, place, ripple } from './made.ts';

const end = midnight + dayMs;
const flight = flightBetween(place, midnight, end, binsOf(made(midnight, end, () => 20)));
/** From noon on so many grams an hour, for so many hours. */
const going = (gPerH: number, hours: number) => (h: number) => -gPerH * Math.max(0, Math.min(hours, h - 12));

interface More {
  readonly brood?: Series;
  readonly steps?: readonly WeightStep[];
  readonly untilMs?: number;
}
function left(
  of: (h: number) => number,
  { brood, steps = [], untilMs = end }: More = {},
): readonly MassDeparture[] {
  return massDepartures({
    weight: binsOf(made(midnight, untilMs, (h) => 9000 - 3 * h + ripple(h, 6) + of(h), 10)),
    brood: binsOf(brood ?? seriesOf([])),
    flight,
    steps,
    fromMs: midnight,
    toMs: end,
    beesG: 600,
    mostBeesG: 700,
  });
}

describe('a fall that goes on for hours', () => {
  it('is no mass of bees: those are gone within the hour', () => {
    expect(left(going(400, 5))).toEqual([]);
  });
  it('is not told as one while it goes on', () => {
    for (let atMs = midnight + 12.5 * hourMs; atMs < midnight + 17 * hourMs; atMs += hourMs / 6)
      expect(left(going(400, 5), { untilMs: atMs }).filter((one) => isSure(one, atMs))).toEqual([]);
  });
  it('is one where it ends', () => {
    expect(left(going(800, 0.75))).toHaveLength(1);
  });
  it('is one where the brood cooled, whatever else is carried off', () => {
    const brood = made(midnight, end, (h) => (h < 12 ? 34.5 : 24));
    expect(left((h) => going(800, 0.75)(h) + going(300, 5)(h), { brood })).toHaveLength(1);
  });
});

it('a box that was put back lighter than it was taken up has lost what the hand took', () => {
  const lifted = {
    atMs: midnight + 11.9 * hourMs,
    untilMs: midnight + 12.5 * hourMs,
    sizeG: -600,
    sizeSdG: 10,
    kind: 'lifted' as const,
  };
  // What the bins show of it, half an hour and more after it began.
  const of = (h: number) => (h < 12.6 ? 0 : -600);
  expect(left(of)).toHaveLength(1);
  expect(left(of, { steps: [lifted] })).toEqual([]);
});
