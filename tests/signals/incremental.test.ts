import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyseNuc, newAnalysisCache, type AnalysisInput } from '../../server/signals/analyse.ts';
import { indexAt, seriesOf } from '../../server/signals/series.ts';
import type { Estimate, NucSeries, NucSignals, Series } from '../../server/signals/types.ts';
import { fingerprint } from '../../server/signals/analysis-cache.ts';
import { hourMs, minuteMs, place, visitAt } from './made.ts';
import { dayMs, simulatedCase } from './simulated.ts';
import { inWords, type Sentence } from '../../server/words/phrase.ts';
import { sized } from '../support/size.ts';

const words = (sentence: Sentence): string =>
  inWords(sentence, { timeZone: 'UTC', temperature: 'C', weight: 'kg' });

const { nuc, input } = simulatedCase({ seed: 7, days: 4 }, { emptyBoxG: 7000, queenInCage: true });
const now = nuc.splitMs + 3.6 * dayMs;

const pickReadings = (series: Series, keep: (i: number) => boolean): Series =>
  seriesOf(
    [...series.atMs].flatMap((atMs, i) => (keep(i) ? [{ atMs, value: series.value[i] as number }] : [])),
  );

function keepReadings(keep: (i: number, atMs: number) => boolean): AnalysisInput {
  const series = Object.fromEntries(
    Object.entries(input.series).map(([name, s]) => [
      name,
      pickReadings(s as Series, (i) => keep(i, (s as Series).atMs[i] as number)),
    ]),
  ) as NucSeries;
  return { ...input, series };
}

describe('readings that come late', () => {
  it('make no difference to what is said in the end, in whatever order they come', () => {
    const truth = analyseNuc(input, now);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 1, maxLength: 4 }), (late) => {
        const cache = newAnalysisCache();
        // First without the readings of some days, then with all of them.
        const day = (atMs: number): number => Math.floor((atMs - nuc.splitMs) / dayMs);
        late.forEach((_, step) => {
          analyseNuc(
            keepReadings((_i, at) => !late.slice(step).includes(day(at))),
            now,
            cache,
          );
        });
        expect(analyseNuc(input, now, cache)).toEqual(truth);
      }),
      { numRuns: sized(2, 6) },
    );
  });
  it('are only looked for from where the caller says that something changed', () => {
    const cache = newAnalysisCache();
    analyseNuc(input, now, cache);
    const later = now + 2 * hourMs;
    expect(analyseNuc({ ...input, changedFromMs: now }, later, cache)).toEqual(analyseNuc(input, later));
  });
  it('are read anew where a visit of theirs is taken back, however long ago it was', () => {
    const visits = { ...input, events: [visitAt(nuc.splitMs + 1.2 * dayMs), ...input.events] };
    const cache = newAnalysisCache();
    expect(analyseNuc(visits, now, cache)).not.toEqual(analyseNuc({ ...input, events: [] }, now));
    const takenBack = { ...input, events: [], changedFromMs: now };
    expect(analyseNuc(takenBack, now, cache)).toEqual(analyseNuc({ ...input, events: [] }, now));
  });
  it('are those of a day more after each midnight, and of a window that moves on', () => {
    const cache = newAnalysisCache();
    for (let hours = 0; hours < 40; hours += 5) {
      const at = now - 40 * hourMs + hours * hourMs;
      const fromMs = nuc.splitMs - dayMs + hours * hourMs;
      const moving = keepReadings((_, readAt) => readAt >= fromMs);
      expect(analyseNuc(moving, at, cache)).toEqual(analyseNuc(moving, at));
    }
    // And backwards, as a replay looks.
    const earlier = now - 30 * hourMs;
    expect(analyseNuc(input, earlier, cache)).toEqual(analyseNuc(input, earlier));
  });
  it('tell of the night ahead and of the drift as of the last full hour', () => {
    // By day: at night the newest reading counts as well.
    const hourAtMs = Math.floor(now / dayMs) * dayMs - dayMs + 11 * hourMs;
    const after = (minutes: number) => analyseNuc(input, hourAtMs + minutes * minuteMs);
    const [atHour, later, nextHour] = [0, 50, 60].map(after) as [NucSignals, NucSignals, NucSignals];
    expect(later.outlook.chanceBelow).toBe(atHour.outlook.chanceBelow);
    expect(later.outlook.basis).toBe(atHour.outlook.basis);
    expect(later.outlook.tonightMinC).toMatchObject({ ok: true, level: 0.9 });
    expect(later.drift.completeness).toEqual(atHour.drift.completeness);
    expect(later.brood).not.toEqual(atHour.brood);
    expect(nextHour.outlook.chanceBelow).not.toBe(atHour.outlook.chanceBelow);
  });
  it('are told apart by their fingerprint beside a value that is no number, and from it', () => {
    const of = (...value: number[]): string =>
      fingerprint({
        atMs: Float64Array.from(value, (_, i) => i * minuteMs),
        value: Float64Array.from(value),
      });
    expect(of(NaN, 20, 30)).not.toBe(of(NaN, 20, 31));
    expect(of(20, NaN, 30)).not.toBe(of(NaN, 20, 30));
    expect(of(20, NaN, 30)).not.toBe(of(20, 0, 30));
    expect(of(20, NaN, 30)).toBe(of(20, NaN, 30));
  });
  it('count where one replaces another of the same instant', () => {
    const cache = newAnalysisCache();
    analyseNuc(input, now, cache);
    const { broodC } = input.series;
    if (!broodC) throw new Error('no brood probe was simulated');
    const last = indexAt(broodC, now) - 4;
    const first = last - 40;
    const value = broodC.value.map((v, i) => (i >= first && i <= last ? 25 : v));
    const changed = { ...input, series: { ...input.series, broodC: { ...broodC, value } } };
    const changedFromMs = broodC.atMs[first] as number;
    const said = analyseNuc({ ...changed, changedFromMs }, now, cache);
    expect(said).toEqual(analyseNuc(changed, now));
    expect(said.brood).not.toEqual(analyseNuc(input, now).brood);
  });
  it('leave whole days read before untouched', () => {
    const cache = newAnalysisCache();
    analyseNuc(input, now, cache);
    const before = [...cache.days.values()].map((d) => d.read);
    analyseNuc({ ...input, changedFromMs: now }, now + hourMs, cache);
    const after = [...cache.days.values()].map((d) => d.read);
    expect(after.slice(0, -2).every((day, i) => day === before[i])).toBe(true);
    expect(after.at(-1)).not.toBe(before.at(-1));
  });
});

describe('readings that come one by one', () => {
  // From the evening of the second day on: over midnight, dawn and the half hours at which rows of the drift close.
  const firstMs = nuc.splitMs + 1.4 * dayMs;
  it('lead to the very same as all of them at once, wherever one stops', () => {
    const steps = fc.array(fc.oneof(fc.constantFrom(1, 10, 30), fc.integer({ min: 1, max: 400 })), {
      minLength: 1,
      maxLength: 8,
    });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1200 }), steps, (startMin, minutes) => {
        const cache = newAnalysisCache();
        let at = firstMs + startMin * minuteMs;
        analyseNuc(input, at, cache);
        let said;
        for (const min of minutes) {
          const changedFromMs = at;
          at += min * minuteMs;
          said = analyseNuc({ ...input, changedFromMs }, at, cache);
        }
        expect(said).toEqual(analyseNuc(input, at));
      }),
      { numRuns: sized(4, 12) },
    );
  });
  it('read hardly more than the day they are in', () => {
    const cache = newAnalysisCache();
    const at = nuc.splitMs + 3.45 * dayMs;
    analyseNuc(input, at, cache);
    const kept = new Map(cache.kept);
    analyseNuc({ ...input, changedFromMs: at }, at + minuteMs, cache);
    const anew = [...cache.kept].filter(([name, { result }]) => kept.get(name)?.result !== result);
    const today = [...cache.days.keys()].at(-1) as string;
    const yesterday = [...cache.days.keys()].at(-2) as string;
    const names = ['night', 'departure', 'loss'].flatMap((what) => [
      `${what} ${today}`,
      `${what} ${yesterday}`,
    ]);
    expect(anew.map(([name]) => name).filter((name) => !names.includes(name))).toEqual([]);
  });
});

describe('the drift, once its days are over', () => {
  const over = simulatedCase({ seed: 8, days: 13 });
  const hourAt = over.nuc.splitMs + 12 * dayMs;
  it('is not worked out anew with each hour', () => {
    const cache = newAnalysisCache();
    analyseNuc(over.input, hourAt, cache);
    const before = cache.kept.get('drift-as-of')?.result;
    analyseNuc({ ...over.input, changedFromMs: hourAt }, hourAt + 2 * hourMs, cache);
    expect(before).toBeDefined();
    expect(cache.kept.get('drift-as-of')?.result).toBe(before);
  });
  it('sees what was fed after them, from the next full hour on', () => {
    const { rainMm: _, ...series } = over.input.series;
    const input = { ...over.input, series };
    const events = [...input.events, { atMs: hourAt + 5 * minuteMs, kind: 'fed' as const }];
    const fed = { ...input, events, changedFromMs: hourAt };
    const cache = newAnalysisCache();
    analyseNuc(input, hourAt, cache);
    for (const at of [hourAt + 10 * minuteMs, hourAt + hourMs])
      expect(analyseNuc(fed, at, cache).drift).toEqual(analyseNuc(fed, at).drift);
  });
});

describe('the cache', () => {
  it('is void for another place, and lets go of days that are no longer looked at', () => {
    const cache = newAnalysisCache();
    analyseNuc(input, now, cache);
    expect(analyseNuc({ ...input, place }, now, cache)).toEqual(analyseNuc({ ...input, place }, now));
    const recent = keepReadings((_i, at) => at > now - dayMs);
    expect(analyseNuc({ ...recent, place }, now, cache)).toEqual(analyseNuc({ ...recent, place }, now));
    expect(cache.days.size).toBeLessThanOrEqual(3);
  });
  it('sees a visit that is logged afterwards', () => {
    const cache = newAnalysisCache();
    analyseNuc({ ...input, events: [] }, now, cache);
    const logged = { ...input, events: [visitAt(nuc.splitMs + dayMs)], changedFromMs: now };
    expect(analyseNuc(logged, now, cache)).toEqual(analyseNuc(logged, now));
  });
});

describe('a replay', () => {
  it('sees nothing of what comes after its instant', () => {
    const at = nuc.splitMs + 2 * dayMs;
    expect(analyseNuc(input, at)).toEqual(
      analyseNuc(
        keepReadings((_i, t) => t <= at),
        at,
      ),
    );
  });
});

function estimates(value: unknown): Estimate[] {
  if (typeof value !== 'object' || value === null) return [];
  if ('ok' in value) return [value as Estimate];
  return Object.values(value).flatMap(estimates);
}

function numbers(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbers) : [];
}

describe('whatever the readings', () => {
  const reading = fc.record({
    atMs: fc.integer({ min: 0, max: 4 * 24 * 60 }).map((m) => nuc.splitMs + m * minuteMs),
    value: fc.oneof(
      fc.double({ min: -200, max: 30_000, noNaN: true }),
      fc.constantFrom(0, 85, -127, 15_000, 34.5),
    ),
  });
  const readings = fc.array(reading, { maxLength: 250 }).map(seriesOf);
  it('nothing told is not a number, and every interval holds its value', () => {
    fc.assert(
      fc.property(
        readings,
        readings,
        readings,
        fc.integer({ min: 0, max: 96 }),
        (weightG, broodC, outsideC, hour) => {
          const signals = analyseNuc(
            { ...input, series: { weightG, broodC, outsideC, cageC: broodC, rainMm: outsideC } },
            nuc.splitMs + hour * hourMs,
          );
          for (const n of numbers(signals)) expect(Number.isFinite(n)).toBe(true);
          for (const e of estimates(signals)) {
            if (!e.ok) expect(words(e.why).length).toBeGreaterThan(5);
            else {
              expect(e.low).toBeLessThanOrEqual(e.value);
              expect(e.high).toBeGreaterThanOrEqual(e.value);
              expect(e.restsOn.length).toBeGreaterThan(0);
            }
          }
        },
      ),
      { numRuns: sized(10, 40) },
    );
  });
});
