/** The probe, or the nest: cold readings that a night explains, and those that none does. */
import { describe, expect, it } from 'vitest';
import { binsOf, binMs } from '../../server/signals/bins.ts';
import { probePlace } from '../../server/signals/brood/probe-place.ts';
import type { Series } from '../../server/signals/types.ts';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const startMs = Date.UTC(2026, 4, 10);
const days = 4;

const every = (of: (hour: number) => number): Series => {
  const atMs = Float64Array.from({ length: (days * dayMs) / binMs }, (_, i) => startMs + i * binMs);
  return { atMs, value: atMs.map((at) => of((at - startMs) / hourMs)) };
};
/** 8 °C at five in the morning, 20 °C at five in the afternoon. */
const outside = (hour: number): number => 14 - 6 * Math.cos(((hour - 5) / 12) * Math.PI);
const steady = (): number => 34.5;
/** From the third night on the bees hold 24 K and no more. */
const chilling = (hour: number): number => (hour < 48 ? 34.5 : Math.min(34.5, outside(hour - 2) + 23));
const slipMs = 60;
/** In the afternoon of the third day the probe slips to where half of the warmth is left. */
const slipped = (hour: number): number =>
  hour < slipMs ? 34.5 : outside(hour - 2) + 0.5 * (34.5 - outside(hour - 2));

const read = (
  brood: (hour: number) => number,
  untilHour: number,
  more: { cage?: (hour: number) => number; visitHour?: number; blind?: true } = {},
) =>
  probePlace({
    brood: binsOf(every(brood)),
    outside: binsOf(more.blind ? { atMs: new Float64Array(0), value: new Float64Array(0) } : every(outside)),
    ...(more.cage ? { cageC: every(more.cage) } : {}),
    events: more.visitHour === undefined ? [] : [{ atMs: startMs + more.visitHour * hourMs, kind: 'visit' }],
    nowMs: startMs + untilHour * hourMs,
  });

describe('a brood probe', () => {
  it('reads the nest while that is warm', () => {
    expect(read(steady, 90)).toMatchObject({ state: 'in-nest', sinceMs: null });
  });

  it('reads the nest while that gives way to a cold night', () => {
    for (let hour = 48; hour < 90; hour++) expect(read(chilling, hour).state).toBe('in-nest');
    expect(chilling(55)).toBeLessThan(32);
  });

  it('is in doubt an hour after it slipped out, and stays so over a mild noon', () => {
    expect(read(slipped, slipMs + 1.5)).toMatchObject({ state: 'unclear' });
    expect(read(slipped, slipMs + 30)).toMatchObject({ state: 'unclear' });
  });

  it('is in doubt without an outside probe, by how fast it fell', () => {
    expect(read(slipped, slipMs + 1.5, { blind: true })).toMatchObject({ state: 'unclear', how: 'sudden' });
  });

  it('is told as slipped where the cage stayed warm, and as the nest where the cage cooled too', () => {
    expect(read(slipped, slipMs + 6, { cage: steady })).toMatchObject({ state: 'slipped' });
    expect(read(slipped, slipMs + 6, { cage: slipped })).toMatchObject({ state: 'in-nest' });
  });

  it('is believed where the fall goes with a visit', () => {
    expect(read(slipped, slipMs + 1.5, { visitHour: slipMs, blind: true })).toMatchObject({
      state: 'in-nest',
    });
  });

  it('reads the nest again once a visit put it back, and says since when', () => {
    const putBack = (hour: number): number => (hour < 80 ? slipped(hour) : 34.5);
    expect(read(putBack, 79)).toMatchObject({ state: 'unclear' });
    const back = read(putBack, 88, { visitHour: 80 });
    expect(back).toMatchObject({ state: 'in-nest' });
    expect(back.readSinceMs).toBeGreaterThan(startMs + 80 * hourMs);
  });

  it('that never lay among brood is in doubt within a day', () => {
    expect(read((hour) => 0.5 * (34 + outside(hour)), 12)).toMatchObject({
      state: 'unclear',
      how: 'never-warm',
    });
  });
});
