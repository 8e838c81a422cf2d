import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { evidenceFor } from '../../dashboard/chart/evidence-of.ts';
import { saidOf } from '../../dashboard/chart/evidence-said.ts';
import { linesOf, lonePoints, nearest, rangeInWords, sideBySideMs } from '../../dashboard/chart/lines.ts';
import { byKey, isAll, joined, moved, newest, within, zoomed } from '../../dashboard/chart/span.ts';
import { valueRange } from '../../dashboard/chart/value-range.ts';
import { dateStyle } from '../../dashboard/format/date-style.ts';
import { timeTicks } from '../../dashboard/chart/ticks.ts';
import { casesFor } from '../browser/invented/cases.ts';
import { chartOf } from '../browser/invented/charts.ts';

const nowMs = Date.parse('2026-05-14T12:00:00Z');
const metric = { temperature: 'C', weight: 'kg' } as const;
const imperial = { temperature: 'F', weight: 'lb' } as const;
const chart = chartOf(casesFor(1, 'Europe/Berlin')[0]!, { pixels: 400, suspect: true }, nowMs);

describe('the stretch of time', () => {
  const whole = { fromMs: 0, toMs: 100 * 3_600_000 };
  const hours = (from: number, to: number) => ({ fromMs: from * 3_600_000, toMs: to * 3_600_000 });
  it('never leaves the whole and never gets shorter than half an hour', () => {
    const any = fc.double({ min: -1e10, max: 1e10, noNaN: true });
    fc.assert(
      fc.property(any, any, fc.double({ min: 0.01, max: 100, noNaN: true }), (a, b, factor) => {
        for (const span of [
          within({ fromMs: a, toMs: b }, whole),
          zoomed({ fromMs: a, toMs: b }, factor, a, whole),
        ]) {
          expect(span.fromMs).toBeGreaterThanOrEqual(0);
          // A rounding of the sum of two doubles of this size.
          expect(span.toMs).toBeLessThanOrEqual(whole.toMs + 1e-3);
          expect(span.toMs - span.fromMs).toBeGreaterThanOrEqual(30 * 60_000 - 1e-3);
        }
      }),
    );
  });
  it('keeps the instant that it is zoomed around', () => {
    expect(zoomed(hours(20, 60), 0.5, 30 * 3_600_000, whole)).toEqual(hours(25, 45));
  });
  it('is moved by a share of its length, as far as the whole goes', () => {
    expect(moved(hours(20, 60), 0.5, whole)).toEqual(hours(40, 80));
    expect(moved(hours(20, 60), 5, whole)).toEqual(hours(60, 100));
    expect(newest(10 * 3_600_000, whole)).toEqual(hours(90, 100));
  });
  it('is all again when it is spread as far as it goes, and grows with what comes later', () => {
    expect(isAll(hours(0, 99), whole)).toBe(false);
    expect(isAll(zoomed(hours(20, 60), 9, 30 * 3_600_000, whole), whole)).toBe(true);
    expect(joined(whole, hours(80, 110))).toEqual(hours(0, 110));
  });
  it.each([
    ['ArrowRight', hours(28, 68)],
    ['ArrowLeft', hours(12, 52)],
    ['+', hours(28, 52)],
    ['Home', whole],
    ['End', hours(60, 100)],
    ['x', undefined],
  ])('key %s', (key, expected) => {
    expect(byKey(key, hours(20, 60), whole)).toEqual(expected);
  });
});

describe('the time axis', () => {
  it('begins days at the site’s midnight, as Temporal has it, through the change of clocks', () => {
    const from = Date.parse('2026-03-27T00:00:00Z');
    const ticks = timeTicks(from, from + 5 * 86_400_000, 'Europe/Berlin', 8);
    for (const tick of ticks) {
      const there = Temporal.Instant.fromEpochMilliseconds(tick.value).toZonedDateTimeISO('Europe/Berlin');
      expect(there.hour).toBe(0);
    }
    expect(ticks.map((tick) => tick.label)).toEqual([
      'Sat 28 Mar',
      'Sun 29 Mar',
      'Mon 30 Mar',
      'Tue 31 Mar',
      'Wed 1 Apr',
    ]);
  });
  it('leaves out the hour that spring leaves out', () => {
    const from = Date.parse('2026-03-28T23:00:00Z');
    const labels = timeTicks(from, from + 6 * 3_600_000, 'Europe/Berlin', 8).map((tick) => tick.label);
    expect(labels).toEqual(['Sun 29 Mar', '01:00', '03:00', '04:00', '05:00', '06:00', '07:00']);
  });
  it('begins a day that has no midnight with its first instant, by days and by hours', () => {
    // Chile's clocks go from 23:59:59 on to 01:00 (IANA tz database: Santiago, 6 September 2026).
    const zone = 'America/Santiago';
    const from = Date.parse('2026-09-05T04:00:00Z');
    const days = timeTicks(from, from + 5 * 86_400_000, zone, 8);
    expect(days.slice(0, 3).map(({ label }) => label)).toEqual(['Sat 5 Sep', 'Sun 6 Sep', 'Mon 7 Sep']);
    const hours = timeTicks(from + 22 * 3_600_000, from + 26 * 3_600_000, zone, 4);
    expect(hours.map(({ label }) => label)).toEqual(['22:00', '23:00', 'Sun 6 Sep', '02:00', '03:00']);
  });
  it('says the hour as its reader does: 24 hours, or 12', () => {
    const from = Date.parse('2026-05-14T10:00:00Z');
    const labels = () => timeTicks(from, from + 6 * 3_600_000, 'Europe/Berlin', 4).map((tick) => tick.label);
    expect(labels()).toEqual(['12:00', '15:00', '18:00']);
    const before = dateStyle.value;
    dateStyle.value = { ...before, hours: 12 };
    expect(labels()).toEqual(['12:00 pm', '3:00 pm', '6:00 pm']);
    dateStyle.value = before;
  });
  it('has about as many lines as there is room for, in order, inside, from an hour to years', () => {
    const length = fc.double({ min: Math.log(3_600_000), max: Math.log(5 * 366 * 86_400_000), noNaN: true });
    fc.assert(
      fc.property(fc.integer({ min: Date.UTC(2024, 0), max: Date.UTC(2030, 0) }), length, (from, log) => {
        const to = from + Math.exp(log);
        const ticks = timeTicks(from, to, 'America/St_Johns', 8);
        // A day or a month may lie in the span beside those that the length alone has room for.
        expect(ticks.length).toBeLessThanOrEqual(10);
        expect(
          ticks.every(
            (tick, i) =>
              tick.value >= from && tick.value <= to && (i === 0 || tick.value > (ticks[i - 1]?.value ?? 0)),
          ),
        ).toBe(true);
      }),
      { numRuns: 60 },
    );
  });
});

describe('lines and evidence', () => {
  it('are in the reader’s units', () => {
    const kg = linesOf(chart, 'weight', metric)[0]?.points[0]?.y ?? NaN;
    const lb = linesOf(chart, 'weight', imperial)[0]?.points[0]?.y ?? NaN;
    // Pound of 1959, exact by definition.
    expect(lb / kg).toBeCloseTo(1 / 0.45359237, 9);
  });
  it('leave gaps as gaps', () => {
    expect(linesOf(chart, 'warmth', metric)[0]?.points.some((point) => point.y === null)).toBe(true);
  });
  it('show as a dot what no stroke joins to another', () => {
    const at = (x: number, y: number | null) => ({ x, y });
    expect(lonePoints([at(1, 5)])).toEqual([at(1, 5)]);
    expect(lonePoints([at(1, 5), at(2, 6), at(3, null), at(4, 7), at(5, null)])).toEqual([at(4, 7)]);
  });
  it('keep suspects apart from the line', () => {
    const line = linesOf(chart, 'weight', metric)[0];
    expect(line?.suspects.map((point) => point.y)).toEqual([14.9]);
    expect(line?.points.some((point) => point.y === 14.9)).toBe(false);
  });
  it('find the reading nearest to the finger, and none across a gap', () => {
    const points = [0, 10, 20, 100].map((x) => ({ x, y: x === 20 ? null : x }));
    expect(nearest(points, 12, 5)?.x).toBe(10);
    expect(nearest(points, 60, 5)).toBeUndefined();
    expect(nearest([], 1, 5)).toBeUndefined();
  });
  it('are laid side by side no further apart than half the usual step, whatever gap the table begins with', () => {
    const minute = 60_000;
    expect(sideBySideMs([0, 600, 605, 610, 615].map((at) => at * minute))).toBe(2.5 * minute);
    expect(sideBySideMs([7])).toBe(Infinity);
    expect(sideBySideMs([])).toBe(Infinity);
  });
  it('put weight evidence on the weight and warmth evidence on the warmth', () => {
    const weight = evidenceFor(chart, 'weight', metric, nowMs);
    const warmth = evidenceFor(chart, 'warmth', metric, nowMs);
    expect([weight.bands.length, warmth.nights.length, warmth.drift.length]).toEqual([0, 0, 0]);
    expect(weight.nights.length).toBe(9);
    expect(warmth.outlook?.mid).toBe(32.1);
    expect(weight.marks.map((mark) => mark.kind)).toContain('departure');
    expect(warmth.marks.map((mark) => mark.kind)).toEqual(['visit']);
  });
  it('are listed in words, a step’s size once', () => {
    const steps = saidOf(chart, 'weight').filter(({ sign }) => sign === '↕');
    expect(steps.map(({ words }) => words)).toEqual(['−80 g: opened, goes with a logged visit']);
  });
  it('draw the foragers’ leaving as the weight that it alone would have left', () => {
    const { drift } = evidenceFor(chart, 'weight', metric, nowMs);
    const points = linesOf(chart, 'weight', metric)[0]!.points;
    const hours = points
      .filter((point) => point.x < points[0]!.x + 6 * 3_600_000)
      .flatMap(({ y }) => y ?? []);
    expect(drift[0]?.mid).toBeGreaterThanOrEqual(Math.min(...hours));
    expect(drift[0]?.mid).toBeLessThanOrEqual(Math.max(...hours));
    // A box that is lifted off at that very moment moves nothing.
    const scale = chart.series[0]!;
    const lifted = { ...scale, points: [[scale.points[0]![0]!, 0], ...scale.points.slice(1)] };
    const again = evidenceFor({ ...chart, series: [lifted] }, 'weight', metric, nowMs).drift[0]?.mid ?? NaN;
    // Neighbouring readings of the fixture lie less than 20 g apart.
    expect(Math.abs(again - (drift[0]?.mid ?? NaN))).toBeLessThan(0.02);
    expect((drift[0]?.mid ?? 0) - (drift.at(-1)?.mid ?? 0)).toBeCloseTo(
      chart.driftCurve.at(-1)?.kg ?? NaN,
      9,
    );
    expect(drift.every((point) => point.low <= point.mid && point.mid <= point.high)).toBe(true);
    expect(evidenceFor({ ...chart, series: [] }, 'weight', metric, nowMs).drift).toEqual([]);
  });
  it('reach as far as the usual run of the values and their evidence, not to a moment with the box lifted', () => {
    const span = { fromMs: 0, toMs: 1000 };
    const points = Array.from({ length: 1000 }, (_, i) => ({ x: i, y: i === 500 ? 0 : 9 + (i % 10) / 100 }));
    const line = { ...linesOf(chart, 'weight', metric)[0]!, points };
    const none = evidenceFor({ ...chart, series: [] }, 'outside', metric, nowMs);
    const range = valueRange([line], none, span);
    expect(range).toMatchObject({ cut: true });
    expect(range?.low).toBeGreaterThan(8.9);
    expect(range?.high).toBeLessThan(9.2);
    // Close up it is no longer a moment among many, and is shown.
    expect(valueRange([line], none, { fromMs: 490, toMs: 510 })?.low).toBeLessThan(0);
    const withBand = { ...none, bands: [{ from: 0, to: 10, low: 3, high: 9 }] };
    expect(valueRange([line], withBand, span)?.low).toBeLessThan(3);
    expect(valueRange([], none, span)).toBeUndefined();
  });
  it('draw an alert that is not over up to now', () => {
    expect(evidenceFor(chart, 'warmth', metric, nowMs).spans[0]?.to).toBe(nowMs);
  });
  it('sum up what lies outside in a sentence', () => {
    expect(rangeInWords(linesOf(chart, 'outside', metric), metric)).toMatch(
      /^Between −?\d+\.\d and \d+\.\d °C in this time, /,
    );
    expect(rangeInWords([], metric)).toBe('Nothing was measured in this time.');
  });
});
