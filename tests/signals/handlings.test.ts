/** Handlings that follow each other closely, or that one reading alone shows, are found. */
import { describe, expect, it } from 'vitest';
import { qualityGate } from '../../ingest/quality.ts';
import { weightSteps } from '../../server/signals/weight/weight-steps.ts';
import { seriesOf } from '../../server/signals/series.ts';

const minuteMs = 60_000;
const startMs = Date.UTC(2026, 5, 3, 8);

/** Ten hours on a scale, g; `at` says what is on it in minute `m`, where it is not the box alone. */
function day(everyMin: number, at: (m: number) => number | null) {
  const readings = Array.from({ length: 600 / everyMin }, (_, i) => {
    const m = i * everyMin;
    return { atMs: startMs + m * minuteMs, value: at(m) ?? 14_000 + ((i * 7) % 5) };
  });
  return seriesOf(readings);
}
const found = (series: ReturnType<typeof day>) =>
  weightSteps(series, startMs, startMs + 600 * minuteMs, { events: [] });
const covering = (series: ReturnType<typeof day>, minute: number) =>
  found(series).filter(
    ({ atMs, untilMs = atMs }) =>
      atMs <= startMs + (minute + 10) * minuteMs && untilMs >= startMs + (minute - 10) * minuteMs,
  );

describe('a handling', () => {
  it.each([
    [5, 25],
    [5, 30],
    [10, 40],
    [15, 45],
    [15, 60],
  ])('every %d min read: two, %d min apart, are found', (everyMin, apart) => {
    const lids = [300, 300 + apart];
    const twice = day(everyMin, (m) => (lids.some((from) => m >= from && m < from + 10) ? 9000 : null));
    for (const minute of lids) expect(covering(twice, minute).length).toBeGreaterThan(0);
    expect(found(twice).every(({ sizeG }) => Math.abs(sizeG) < 150)).toBe(true);
  });

  it('that one reading alone shows passes the entry check, and is found', () => {
    const gate = qualityGate();
    const lifted = day(5, (m) => (m === 300 ? 40 : null));
    const judged = Array.from(lifted.value, (value, i) =>
      gate.judge({
        sensor: 's',
        probe: '',
        quantity: 'weight',
        unit: 'kg',
        value: value / 1000,
        observedAtMs: lifted.atMs[i] ?? 0,
        receivedAtMs: lifted.atMs[i] ?? 0,
      }),
    );
    expect(judged.filter(({ suspect }) => suspect !== undefined)).toEqual([]);
    expect(found(lifted)).toMatchObject([{ kind: 'lifted' }]);
  });

  it.each([
    [1, 2],
    [5, 1],
    [15, 1],
    [5, 9],
  ])('is none where something lay on the closed box, every %d min read, %d min long', (everyMin, long) => {
    const cat = day(everyMin, (m) => (m >= 300 && m < 300 + long ? 18_000 : null));
    expect(found(cat)).toMatchObject([{ kind: 'loaded' }]);
    expect(Math.abs((found(cat)[0]?.loadG ?? 0) - 4000)).toBeLessThan(20);
    // Heavier than the box: nobody lifted it.
    const sheep = day(everyMin, (m) => (m >= 300 && m < 300 + long ? 44_000 : null));
    expect(found(sheep)).toMatchObject([{ kind: 'loaded' }]);
  });

  it('is one where the lid was off before or after something lay on the box', () => {
    const both = day(5, (m) => (m === 300 ? 18_000 : m === 305 ? 12_500 : null));
    expect(found(both)).toMatchObject([{ kind: 'opened' }]);
    expect(found(both)[0]).not.toHaveProperty('loadG');
  });

  it('that was logged is what the log says, although only a hand on the box shows', () => {
    const hand = day(5, (m) => (m === 300 ? 18_000 : null));
    const events = [{ atMs: startMs + 300 * minuteMs, kind: 'visit' as const }];
    expect(weightSteps(hand, startMs, startMs + 600 * minuteMs, { events })).toMatchObject([
      { kind: 'opened' },
    ]);
  });

  it('with which something stayed in the box is no load', () => {
    const fed = day(5, (m) => (m === 300 ? 18_000 : m > 300 ? 15_500 + (m % 5) : null));
    expect(found(fed).map(({ kind }) => kind)).not.toContain('loaded');
  });

  it.each([2, 5, 10, 15])('is none where foragers fly out within an hour and a half, %d min', (everyMin) => {
    // A real scale of the open series lost 350 g from 07:40 to 09:10, most of it in the first half hour.
    const gone = (m: number): number => 350 * (1 - Math.exp(-Math.max(0, m - 300) / 30));
    const out = day(everyMin, (m) => 14_000 - gone(m) + ((m * 7) % 5));
    expect(found(out)).toEqual([]);
  });

  it('is none where foragers come home within twenty minutes', () => {
    // As on two of the five real scales at dusk.
    const home = day(2, (m) => 14_000 + Math.min(170, Math.max(0, (m - 300) * 8)) + ((m * 7) % 5));
    expect(found(home)).toEqual([]);
  });
});
