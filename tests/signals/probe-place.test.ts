/** The probe, or the nest: cold readings that a night explains, and those that none does. */
import { describe, expect, it } from 'vitest';
import { binsOf, binMs } from '../../server/signals/bins.ts';
import { probeNotNest, probePlace } from '../../server/signals/brood/probe-place.ts';
import type { Series } from '../../server/signals/types.ts';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const startMs = Date.UTC(2026, 4, 10);
const days = 14;

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
  more: {
    cage?: (hour: number) => number;
    visitHour?: number;
    blind?: true;
    bees?: number;
    latestC?: number;
  } = {},
) =>
  probePlace({
    brood: binsOf(every(brood)),
    outside: binsOf(more.blind ? { atMs: new Float64Array(0), value: new Float64Array(0) } : every(outside)),
    ...(more.cage ? { cageC: every(more.cage) } : {}),
    events: more.visitHour === undefined ? [] : [{ atMs: startMs + more.visitHour * hourMs, kind: 'visit' }],
    ...(more.bees === undefined ? {} : { bees: more.bees }),
    ...(more.latestC === undefined ? {} : { latestC: more.latestC }),
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

  it('stays in doubt, and fallen at once, while hands are off: nobody can have put it back', () => {
    // Let out on the day on which it slipped: looked for after six to nine days (common practice), or later in bad weather.
    for (const days of [6, 8, 9, 11])
      expect(read(slipped, slipMs + 24 * days), String(days)).toMatchObject({
        state: 'unclear',
        how: 'sudden',
      });
  });

  it('is told with its newest reading, as the page shows it beside the sentence', () => {
    const { why } = read(slipped, slipMs + 1.5, { blind: true, latestC: 21.7 });
    expect(why).toContainEqual({ value: 21.7, unit: '°C' });
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
    expect(back.doubts).toHaveLength(1);
    expect(back.doubts[0]?.toMs).toBeGreaterThan(startMs + 80 * hourMs);
  });

  it('is believed two hours after a visit put it back', () => {
    const putBack = (hour: number): number => (hour < 80 ? slipped(hour) : 34.5);
    expect(read(putBack, 81, { visitHour: 80 })).toMatchObject({ state: 'unclear', putBackMs: null });
    expect(read(putBack, 82.5, { visitHour: 80 })).toMatchObject({
      state: 'in-nest',
      putBackMs: startMs + 80 * hourMs,
    });
  });

  it('was not put back by a visit after which it stayed cold for half a day', () => {
    const hotNoon = (hour: number): number => (hour < 80 || hour > 84 ? slipped(hour) : 33);
    for (const hour of [72, 83.5, 90])
      expect(read(hotNoon, hour, { visitHour: 66 }).state, String(hour)).toBe('unclear');
  });

  it('that reads the outside for a day is told as slipped', () => {
    const fallen = (hour: number): number => (hour < slipMs ? 34.5 : outside(hour) + 0.5);
    expect(read(fallen, slipMs + 10)).toMatchObject({ state: 'unclear' });
    expect(read(fallen, slipMs + 26)).toMatchObject({ state: 'slipped' });
    // An empty box follows hours behind.
    const empty = (hour: number): number => (hour < slipMs ? 34.5 : outside(hour - 2) + 0.5);
    expect(read(empty, slipMs + 26)).toMatchObject({ state: 'unclear' });
  });

  it('that fell at once is no failing nest, unless bees left with it', () => {
    const place = read(slipped, slipMs + 30);
    expect(place).toMatchObject({ state: 'unclear', how: 'sudden' });
    expect(probeNotNest(place, [])).toBe(place.why);
    expect(probeNotNest(place, [{ fromMs: startMs + (slipMs - 1) * hourMs }])).toBeNull();
    const gaveWay = read((hour) => Math.max(17, 34.5 - 1.5 * Math.max(0, hour - slipMs)), slipMs + 30);
    expect(gaveWay).toMatchObject({ state: 'unclear' });
    expect(probeNotNest(gaveWay, [])).toBeNull();
  });

  it('that lies in a nuc of one frame, which holds what its bees can, reads the nest through cold nights', () => {
    /** Combs and brood follow the morning hours behind. */
    const weak = (hour: number): number => Math.min(34.5, outside(hour - 8) + 16);
    expect(Math.min(...Array.from({ length: 24 }, (_, hour) => weak(hour)))).toBeLessThan(26);
    for (let hour = 8; hour < 90; hour++) expect(read(weak, hour, { bees: 1900 }).state).toBe('in-nest');
    // Five frames can hold more than that.
    const states = Array.from({ length: 82 }, (_, i) => read(weak, 8 + i, { bees: 9500 }).state);
    expect(states).toContain('unclear');
  });

  it('is not told as slipped by a cage that hangs in the same cold', () => {
    const fell =
      (beforeC: number, afterC: number) =>
      (hour: number): number =>
        hour < slipMs ? beforeC : afterC;
    const at = (cage: (hour: number) => number) => read(fell(34.5, 31), slipMs + 6, { cage }).state;
    expect(at(fell(33, 32.5))).toBe('slipped');
    expect(at(fell(31.5, 30.5))).toBe('unclear');
  });

  it('stays slipped where a cold night cools the cage as well, which is still warmer than the brood’s probe', () => {
    /** The nest is narrower at night, and the cage hangs at its edge. */
    const cage = (hour: number): number => (hour < slipMs ? 34 : 34 - 0.45 * (20 - outside(hour - 2)));
    const coldMorning = slipMs + 19;
    expect(cage(coldMorning)).toBeLessThan(34 - 3);
    for (let hour = slipMs + 2; hour < slipMs + 30; hour++)
      expect(read(slipped, hour, { cage }).state, String(hour)).toBe('slipped');
  });

  it('that never lay among brood is in doubt within a day', () => {
    expect(read((hour) => 0.5 * (34 + outside(hour)), 12)).toMatchObject({
      state: 'unclear',
      how: 'never-warm',
    });
  });
});
