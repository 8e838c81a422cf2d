/**
 * Seeded random numbers. The same seed gives the same numbers bit for bit on every machine, and named streams keep
 * one part of the model from disturbing another: a longer run has the shorter one as its beginning.
 *
 * Generator: Chris Doty-Humphrey's sfc32 (public domain, PractRand); seeds are spread by the 32-bit
 * finaliser of MurmurHash3 (public domain).
 */

export interface Rng {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Whole number in [low, high], both included. */
  whole(low: number, high: number): number;
  /** Normal with mean 0 and standard deviation 1. */
  normal(): number;
  /** True with probability `chance`. */
  chance(chance: number): boolean;
  /** How many of `n` come up when each has probability `p`. */
  binomial(n: number, p: number): number;
  /** Poisson count with the given mean. */
  poisson(mean: number): number;
  /** Exponential with the given mean. */
  exponential(mean: number): number;
}

function mix(hash: number): number {
  let h = hash | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

function seedOf(seed: number, stream: string): number {
  let h = mix(seed ^ 0x9e3779b9);
  h = mix(h ^ mix(Math.floor(seed / 2 ** 32)));
  for (let i = 0; i < stream.length; i++) h = mix(h ^ stream.charCodeAt(i) ^ Math.imul(i + 1, 0x27d4eb2f));
  return h;
}

/** Uniform numbers of sfc32 from three seed words; its first twelve outputs are thrown away, as its author does. */
function sfc32(seedA: number, seedB: number, seedC: number): () => number {
  let a = seedA | 0;
  let b = seedB | 0;
  let c = seedC | 0;
  let counter = 1;
  const next = (): number => {
    const out = (a + b + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + out;
    c |= 0;
    return (out >>> 0) / 2 ** 32;
  };
  for (let i = 0; i < 12; i++) next();
  return next;
}

/** Random numbers of one named stream of one seed. `seed` is a whole number up to 2^53. */
export function rngFor(seed: number, stream = ''): Rng {
  const h = seedOf(seed, stream);
  const uniform = sfc32(h, mix(h + 1), mix(h + 2));
  let spare: number | null = null;

  /** Marsaglia's polar method (1964). */
  const normal = (): number => {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const s = x * x + y * y;
      if (s > 0 && s < 1) {
        const scale = Math.sqrt((-2 * Math.log(s)) / s);
        spare = y * scale;
        return x * scale;
      }
    }
  };

  const poisson = (mean: number): number => {
    if (mean <= 0) return 0;
    if (mean > 30) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal()));
    const limit = Math.exp(-mean);
    let product = uniform();
    let count = 0;
    while (product > limit) {
      product *= uniform();
      count++;
    }
    return count;
  };

  const binomial = (n: number, p: number): number => {
    if (n <= 0 || p <= 0) return 0;
    if (p >= 1) return n;
    if (p > 0.5) return n - binomial(n, 1 - p);
    const mean = n * p;
    if (mean < 8 && n > 20) return Math.min(n, waitingBinomial(n, p));
    if (n <= 20) return countOf(n, p);
    return Math.min(n, Math.max(0, Math.round(mean + Math.sqrt(mean * (1 - p)) * normal())));
  };

  const countOf = (n: number, p: number): number => {
    let count = 0;
    for (let i = 0; i < n; i++) if (uniform() < p) count++;
    return count;
  };

  /** Devroye's waiting-time method: exact, and quick when successes are few. */
  const waitingBinomial = (n: number, p: number): number => {
    const logQ = Math.log1p(-p);
    let trials = 0;
    let count = -1;
    do {
      trials += Math.floor(Math.log(1 - uniform()) / logQ) + 1;
      count++;
    } while (trials <= n);
    return count;
  };

  return {
    uniform,
    normal,
    poisson,
    binomial,
    between: (low, high) => low + (high - low) * uniform(),
    whole: (low, high) => low + Math.floor(uniform() * (high - low + 1)),
    chance: (chance) => uniform() < chance,
    exponential: (mean) => -mean * Math.log(1 - uniform()),
  };
}

/**
 * Noise with a memory: a first-order autoregressive (Ornstein-Uhlenbeck) series of standard deviation `sd`
 * whose correlation falls to 1/e in `memoryMinutes`, one value a minute.
 */
export function wander(rng: Rng, sd: number, memoryMinutes: number): () => number {
  const keep = Math.exp(-1 / memoryMinutes);
  const kick = sd * Math.sqrt(1 - keep * keep);
  let value = sd * rng.normal();
  return () => {
    value = keep * value + kick * rng.normal();
    return value;
  };
}
