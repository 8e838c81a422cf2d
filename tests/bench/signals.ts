/**
 * A year of weight and brood temperature, a reading a minute, analysed from scratch, and then one hour and one reading
 * more at the end of it; and the same after a week and two months, to see whether their cost grows with the history. One
 * nuc is like another, so `nucs` (2 unless told) are measured and the figures given for a hundred. Time of this process
 * alone, which a busy machine changes least. `npm run bench:signals [-- nucs [days]]`.
 */
import { analyseNuc, newAnalysisCache, type AnalysisInput } from '../../server/signals/analyse.ts';
import type { Series } from '../../server/signals/types.ts';
import { rngFor } from '../../simulator/random.ts';

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
  const rng = rngFor(seed, 'bench');
  const n = Math.floor((length * dayMs) / (every * minuteMs));
  const atMs = Float64Array.from({ length: n }, (_, i) => start + i * every * minuteMs);
  return { atMs, value: atMs.map((at) => of((at - start) / hourMs, rng.normal())) };
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

interface Cost {
  readonly scratch: number;
  /** An hour of readings at once, and a single reading. */
  readonly hour: number;
  readonly reading: number;
}

/** Milliseconds of this process from scratch, for one hour more, and for one reading more: means over the last half day. */
function measure(length: number): Cost {
  const cost = { scratch: 0, hour: 0, reading: 0 };
  const used = (work: () => void): number => {
    const before = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1000 / nucs;
  };
  for (let k = 0; k < nucs; k++) {
    const input = nuc(1000 * k, length);
    const cache = newAnalysisCache();
    const endMs = start + length * dayMs - 12 * hourMs;
    const onwards = (times: number, everyMs: number, fromMs: number): void => {
      for (let i = 1; i <= times; i++) {
        const now = fromMs + i * everyMs;
        analyseNuc({ ...input, changedFromMs: now - everyMs }, now, cache);
      }
    };
    cost.scratch += used(() => analyseNuc(input, endMs, cache));
    cost.hour += used(() => onwards(8, hourMs, endMs)) / 8;
    cost.reading += used(() => onwards(120, minuteMs, endMs + 8 * hourMs)) / 120;
  }
  return cost;
}

measure(20);
const rows = [7, 60, days].map((length) => ({ length, ...measure(length) }));
const full = rows.at(-1) as Cost;
const week = rows[0] as Cost;
console.log(
  `measured on ${String(nucs)} nucs, told for 100 (the reading: for one); a reading a minute, two series`,
);
console.log('history    from scratch   one hour more   ratio    one reading more   to that of a week');
for (const { length, scratch, hour, reading } of rows) {
  const seconds = (ms: number): string => `${((100 * ms) / 1000).toFixed(1)} s`;
  console.log(
    `${`${String(length)} days`.padEnd(11)}${seconds(scratch).padStart(12)}${seconds(hour).padStart(16)}` +
      `${`1:${(scratch / hour).toFixed(0)}`.padStart(8)}${`${reading.toFixed(1)} ms`.padStart(20)}` +
      `${(reading / week.reading).toFixed(2).padStart(20)}`,
  );
}
console.log(`a year from scratch to one hour more: ${(full.scratch / full.hour).toFixed(0)} to 1`);
