/** Control charts: small lasting shifts that no single reading shows. NIST/SEMATECH handbook 6.3.2.3 and 6.3.2.4. */

export interface Cusum {
  readonly high: readonly number[];
  readonly low: readonly number[];
  /** Index of the first value at which a sum passes `decision`; −1 when none does. */
  readonly firstSignal: number;
}

/** Tabular CUSUM about `target` with slack `k` and decision limit `h`, all in the unit of the values. */
export function cusum(values: readonly number[], target: number, k: number, h: number): Cusum {
  const high: number[] = [];
  const low: number[] = [];
  let up = 0;
  let down = 0;
  let firstSignal = -1;
  values.forEach((value, i) => {
    up = Math.max(0, up + value - target - k);
    down = Math.max(0, down + target - k - value);
    high.push(up);
    low.push(down);
    if (firstSignal < 0 && (up > h || down > h)) firstSignal = i;
  });
  return { high, low, firstSignal };
}

/** Exponentially weighted moving average from `start` on, with weight `lambda` for the newest value. */
export function ewma(values: readonly number[], lambda: number, start: number): number[] {
  let level = start;
  return values.map((value) => (level = lambda * value + (1 - lambda) * level));
}

/** Limits at which an EWMA of independent values of standard deviation `sd` signals, `width` sigmas wide, in the long run. */
export function ewmaLimits(
  target: number,
  sd: number,
  lambda: number,
  width = 3,
): { low: number; high: number } {
  const half = width * sd * Math.sqrt(lambda / (2 - lambda));
  return { low: target - half, high: target + half };
}
