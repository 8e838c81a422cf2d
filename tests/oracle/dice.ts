/** Seeded dice for the oracle: the same seed gives the same histories on every machine. */
export interface Dice {
  /** Uniform in [0, 1). */
  unit(): number;
  between(low: number, high: number): number;
  chance(p: number): boolean;
  whole(low: number, high: number): number;
  normal(mean: number, sd: number): number;
  gamma(shape: number, scale: number): number;
  beta(a: number, b: number): number;
  poisson(mean: number): number;
  pick<T>(items: readonly [T, ...T[]]): T;
}

/** mulberry32: 32 bits of state are plenty for counting. */
export function dice(seed: number): Dice {
  let state = seed >>> 0;
  const unit = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  const normal = (mean: number, sd: number): number =>
    mean + sd * Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit());
  /** Marsaglia and Tsang 2000, for shapes of one and more. */
  const gamma = (shape: number, scale: number): number => {
    const d = shape - 1 / 3;
    const c = 1 / Math.sqrt(9 * d);
    for (;;) {
      const x = normal(0, 1);
      const v = (1 + c * x) ** 3;
      if (v > 0 && Math.log(1 - unit()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v * scale;
    }
  };
  const poisson = (mean: number): number => {
    let k = 0;
    for (let left = mean; ; k++) {
      left += Math.log(1 - unit());
      if (left < 0) return k;
    }
  };
  return {
    unit,
    normal,
    gamma,
    poisson,
    between: (low, high) => low + (high - low) * unit(),
    chance: (p) => unit() < p,
    whole: (low, high) => low + Math.floor((high - low + 1) * unit()),
    beta: (a, b) => {
      const x = gamma(a, 1);
      return x / (x + gamma(b, 1));
    },
    pick: (items) => items[Math.floor(unit() * items.length)] ?? items[0],
  };
}
