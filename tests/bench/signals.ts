/**
 * A year of weight and brood temperature, a reading a minute, analysed from scratch, and then one hour more at the end
 * of it; and the same at a tenth of the history, to see whether the hour's cost grows. One nuc is like another, so
 * `nucs` (2 unless told) are measured and the figures given for a hundred. `npx tsx tests/bench/signals.ts [nucs] [days]`.
 */
import { analyseNuc, newAnalysisCache, type AnalysisInput } from '../../server/signals/analyse.ts';
import type { Series } from '../../server/signals/types.ts';
import { diceOf } from '../../simulator/random.ts';

const nucs = Number(process.argv[2] ?? 2);
const days = Number(process.argv[3] ?? 365);
const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const start = Date.UTC(2024, 3, 1);

function yearOf(
  seed: number,
  length: number,
  every: number,
  of: (hour: number, normal: number) => number,
): Series {
  const dice = diceOf(seed, 'bench');
  const n = Math.floor((length * dayMs) / (every * minuteMs));
  const atMs = Float64Array.from({ length: n }, (_, i) => start + i * every * minuteMs);
  return { atMs, value: atMs.map((at) => of((at - start) / hourMs, dice.normal())) };
}

/** A rhythm of a day, a slow loss and noise: enough to make every estimator work. */
function nuc(seed: number, length: number): AnalysisInput {
  const sun = (hour: number): number => -Math.cos(((hour - 3) / 24) * 2 * Math.PI);
  return {
    series: {
      weightG: yearOf(seed, length, 1, (h, e) => 20_000 - 1.2 * h - 60 * Math.max(0, sun(h)) + 12 * e),
      broodC: yearOf(seed + 1, length, 1, (h, e) => 34.6 + 0.2 * sun(h) + 0.06 * e),
      outsideC: yearOf(seed + 2, length, 10, (h, e) => 15 + 6 * sun(h) + 0.2 * e),
    },
    place: { latDeg: 50, lonDeg: 10, timeZone: 'Europe/Berlin' },
    events: [],
    movedAtMs: start + (length - 9) * dayMs,
    broodRegime: () => 'open-brood',
    framesOfBees: 3,
    emptyBoxG: 8000,
  };
}

/** Milliseconds from scratch, and for one hour more (mean of the last twelve, one by one). */
function measure(length: number): { scratch: number; hour: number } {
  let scratch = 0;
  let hour = 0;
  for (let k = 0; k < nucs; k++) {
    const input = nuc(1000 * k, length);
    const cache = newAnalysisCache();
    const endMs = start + length * dayMs - 12 * hourMs;
    const t0 = performance.now();
    analyseNuc(input, endMs, cache);
    const t1 = performance.now();
    for (let h = 1; h <= 12; h++) {
      const now = endMs + h * hourMs;
      analyseNuc({ ...input, changedFromMs: now - hourMs }, now, cache);
    }
    scratch += t1 - t0;
    hour += (performance.now() - t1) / 12;
  }
  return { scratch: scratch / nucs, hour: hour / nucs };
}

measure(20);
const full = measure(days);
const tenth = measure(Math.max(20, Math.round(days / 10)));
const seconds = (ms: number): string => `${((100 * ms) / 1000).toFixed(1)} s`;
console.log(
  `measured on ${String(nucs)} nucs, told for 100; ${String(days)} days of a reading a minute, two series`,
);
console.log(`from scratch            ${seconds(full.scratch)}`);
console.log(
  `one hour more           ${seconds(full.hour)}   ratio 1:${(full.scratch / full.hour).toFixed(0)}`,
);
console.log(
  `one hour more, a tenth of the history  ${seconds(tenth.hour)}   ratio to the above ${(full.hour / tenth.hour).toFixed(2)}`,
);
