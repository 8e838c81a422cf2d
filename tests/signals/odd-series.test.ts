/** Series that no sound sensor sends: nothing throws, no figure is not a number, and no two statements disagree. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { analyseNuc, newAnalysisCache, type AnalysisInput } from '../../server/signals/analyse.ts';
import { seriesOf } from '../../server/signals/series.ts';
import type { Series } from '../../server/signals/types.ts';
import { disagreements, saidBy } from './contradictions.ts';
import { dayMs, hourMs, minuteMs, outsideC, ripple } from './made.ts';

type Of = (hour: number, reading: number) => number;
const split = Date.UTC(2025, 2, 25, 8);

const nests: readonly Of[] = [
  (h) => 34.5 + ripple(h, 0.15),
  () => 34.5,
  (h, i) => (i % 2 === 0 ? 34.5 : 20),
  (h, i) => 32 + (i % 2) / 10_000,
  (h) => Math.min(34.6, outsideC(h + 6) + 16) + ripple(h, 0.1),
  (h) => (h < 100 ? 34.5 : 18) + ripple(h, 0.1),
  (h, i) => (i % 7 === 0 ? 85 : 34.5 + ripple(h, 0.1)),
  (h) => Math.round(34 + 1.5 * Math.sin(h / 9)),
];
const boxes: readonly Of[] = [
  (h) => 12_000 - 5 * h + ripple(h, 1),
  (h) => Math.round((12_000 - 5 * h + ripple(h, 30)) / 100) * 100,
  (h) => 5000 - 2 * h + ripple(h, 4),
  (h) => 60_000 - 8 * h + ripple(h, 20),
  (h) => ripple(h, 5) - 500,
  (h, i) => (i % 2 === 0 ? 12_000 : 9000),
  (h) => (h < 50 ? 12_000 : 0) + ripple(h, 5),
  (h) => 12_000 + 3000 * Math.sin(h / 3) + ripple(h, 200),
];
const airs: readonly Of[] = [(h) => outsideC(h + 8), () => 15, (h) => outsideC(h + 8, 2, 3), () => 85];
const places = [
  { latDeg: 50, lonDeg: 10, timeZone: 'Europe/Berlin' },
  { latDeg: 69.6, lonDeg: 18.9, timeZone: 'Europe/Oslo' },
  { latDeg: -44, lonDeg: -176.5, timeZone: 'Pacific/Chatham' },
];

/** Whole, with a gap of three days, begun late, or told by a clock that was put on by three hours. */
const keeps: readonly ((atMs: number) => number)[] = [
  (atMs) => atMs,
  (atMs) => (atMs > split + 60 * hourMs && atMs < split + 130 * hourMs ? NaN : atMs),
  (atMs) => (atMs < split + 100 * hourMs ? NaN : atMs),
  (atMs) => (atMs > split + 80 * hourMs ? atMs + 3 * hourMs : atMs),
];

function sent(of: Of | null, everyMin: number, keep: (atMs: number) => number): Series | undefined {
  if (!of) return undefined;
  const readings = Array.from({ length: Math.floor((16 * 1440) / everyMin) }, (_, i) => {
    const atMs = split - 2 * dayMs + i * everyMin * minuteMs;
    return { atMs: keep(atMs), value: of((atMs - split) / hourMs, i) };
  });
  return seriesOf(readings);
}

function notFinite(said: unknown, path = ''): string[] {
  if (typeof said === 'number') return Number.isFinite(said) ? [] : [path];
  if (typeof said !== 'object' || said === null) return [];
  return Object.entries(said).flatMap(([name, one]) => notFinite(one, `${path}.${name}`));
}

const some = <T>(all: readonly T[]) => fc.constantFrom(...all);
const sensor = (of: readonly Of[]) => fc.option(some(of), { freq: 4 });
const drawn = fc.record({
  brood: sensor(nests),
  cage: sensor(nests),
  box: sensor(boxes),
  air: sensor(airs),
  everyMin: some([5, 15, 30, 60, 61, 1440]),
  keep: some(keeps),
  place: some(places),
  regime: some(['open-brood', 'sealed-brood', 'broodless', 'new-brood-expected', 'unknown'] as const),
  framesOfBees: some([0, 1, 5, 8]),
  hour: fc.integer({ min: 0, max: 14 * 24 }),
});

it('are read to the end, and the same from day to day as at once', () => {
  fc.assert(
    fc.property(drawn, ({ brood, cage, box, air, everyMin, keep, place, regime, framesOfBees, hour }) => {
      const nowMs = split + hour * hourMs;
      const named = { broodC: brood, cageC: cage, weightG: box, outsideC: air };
      const series = Object.fromEntries(
        Object.entries(named).flatMap(([name, of]) => {
          const one = sent(of, everyMin, keep);
          return one ? [[name, one]] : [];
        }),
      );
      const input: AnalysisInput = {
        series,
        place,
        events: [],
        movedAtMs: split,
        emptyBoxG: 7000,
        queenInCage: true,
        framesOfBees,
        framesOfBrood: { sealed: 1, open: 1 },
        broodRegime: () => regime,
      };
      const signals = analyseNuc(input, nowMs);
      expect(notFinite(signals)).toEqual([]);
      expect(disagreements({ signals, nowMs, raised: [], framesOfBees, ...saidBy(signals) })).toEqual([]);
      const cache = newAnalysisCache();
      for (const before of [30, 7, 1]) analyseNuc(input, nowMs - before * hourMs, cache);
      expect(analyseNuc(input, nowMs, cache)).toEqual(signals);
    }),
    { numRuns: 40 },
  );
}, 120_000);
