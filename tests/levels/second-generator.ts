/**
 * A second world for the forager drift, made to disagree with the simulator: other weather, another law of flight,
 * another way home, another account and another scale. It takes nothing from the simulator or the server, which a test checks.
 *
 * Weather: a chain of clear, mixed, grey and rainy days (Richardson 1981); the day a sine, the night an exponential fall
 * (Parton and Logan 1981); declination after Cooper 1969. Flight: logistic in warmth and in light. Home: trips of a Poisson
 * process, on each of which an old bee finds the old stand with a fixed chance; one class is eager, one reluctant, and no two
 * days are alike. Account: gram by gram a day, not by heat. Scale: two lags in a row, the sun on it, a zero that is pulled
 * back (Ornstein and Uhlenbeck) and one that is not. Spreads without a source are chosen to be wide, from common practice.
 */
import { spread } from './spread.ts';

const hourMs = 3_600_000;
const stepMs = 300_000;
const stepH = stepMs / hourMs;
const stepsPerDay = 288;

export interface SecondOptions {
  readonly days: number;
  readonly weather?: 'ordinary' | 'rain-held' | 'cold-spring';
  /** Day of the year of the move; drawn from 115 to 190 unless told. */
  readonly dayOfYear?: number;
  readonly latDeg?: number;
  readonly lonDeg?: number;
  /** Frames of bees and the share that flies home, from and to. */
  readonly frames?: readonly [number, number];
  readonly share?: readonly [number, number];
}

export interface SecondWorld {
  readonly movedAtMs: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** A value every five minutes from the move on. */
  readonly atMs: Float64Array;
  readonly weightG: Float64Array;
  readonly outsideC: Float64Array;
  readonly rainMm: Float64Array;
  /** Old bees gone for good: mass, and share of all who will go. */
  readonly goneG: Float64Array;
  readonly goneShare: Float64Array;
  readonly allG: number;
  /** The box itself without its scale: all of it, what it would be had nobody left, and the water on its roof. */
  readonly boxG: Float64Array;
  readonly ownG: Float64Array;
  readonly roofG: Float64Array;
  readonly framesOfBees: number;
}

/** Chance: Wichmann and Hill 1982 (AS 183). */
function chance(seed: number) {
  let [a, b, c] = [30_268, 30_306, 30_322].map((most, stream) => 1 + (spread(seed, stream) % most)) as [
    number,
    number,
    number,
  ];
  const even = (): number => {
    a = (171 * a) % 30_269;
    b = (172 * b) % 30_307;
    c = (170 * c) % 30_323;
    return (a / 30_269 + b / 30_307 + c / 30_323) % 1;
  };
  for (let i = 0; i < 20; i++) even();
  const from = (low: number, high: number): number => low + (high - low) * even();
  /** Normal: twelve uniforms less six. */
  const bell = (): number => {
    let sum = -6;
    for (let i = 0; i < 12; i++) sum += even();
    return sum;
  };
  return { even, from, bell };
}
type Chance = ReturnType<typeof chance>;

type Sky = 'clear' | 'mixed' | 'grey' | 'rain';
/** From the sky of a day to that of the next: clear, mixed, grey, rain. */
const chain: Readonly<Record<Sky, readonly [number, number, number, number]>> = {
  clear: [0.55, 0.3, 0.1, 0.05],
  mixed: [0.25, 0.4, 0.2, 0.15],
  grey: [0.15, 0.3, 0.3, 0.25],
  rain: [0.1, 0.3, 0.3, 0.3],
};
const skies: readonly Sky[] = ['clear', 'mixed', 'grey', 'rain'];
const swingK: Readonly<Record<Sky, number>> = { clear: 6.5, mixed: 5, grey: 3, rain: 2 };
const brightness: Readonly<Record<Sky, number>> = { clear: 1, mixed: 0.75, grey: 0.4, rain: 0.25 };

interface Day {
  readonly sky: Sky;
  readonly meanC: number;
  /** What bees do on this day beside the weather's law, and what the field gives. */
  readonly mood: number;
  readonly field: number;
}

function weatherDays(rng: Chance, days: number, kind: SecondOptions['weather']): Day[] {
  const springC = kind === 'cold-spring' ? rng.from(8.5, 11.5) : rng.from(12.5, 19.5);
  const heldDays = kind === 'rain-held' ? 2 + Math.floor(3 * rng.even()) : 0;
  let sky: Sky = 'mixed';
  let offC = 2 * rng.bell();
  return Array.from({ length: days + 2 }, (_, d) => {
    let roll = rng.even();
    sky = skies[chain[sky].findIndex((p) => (roll -= p) < 0)] ?? 'mixed';
    offC = 0.7 * offC + 1.5 * rng.bell();
    const held = d <= heldDays && heldDays > 0;
    if (held) sky = 'rain';
    return {
      sky,
      meanC: springC + offC + (held ? -4 : 0),
      mood: Math.exp(0.3 * rng.bell()),
      field: Math.exp(0.7 * rng.bell()),
    };
  });
}

/** Sine of the height of the sun; `solarH` is the hour of the sun's own day. */
function sunSine(latDeg: number, dayOfYear: number, solarH: number): number {
  const rad = Math.PI / 180;
  const tilt = 23.45 * rad * Math.sin(((360 * (284 + dayOfYear)) / 365) * rad);
  const lat = latDeg * rad;
  return Math.sin(lat) * Math.sin(tilt) + Math.cos(lat) * Math.cos(tilt) * Math.cos((solarH - 12) * 15 * rad);
}

/** Air at an hour of the sun's day between 5 and 29: a sine to nine in the evening's half, then a fall to the next dawn. */
function airC(day: Day, next: Day, solarH: number): number {
  const [dawn, dusk] = [5, 19.5];
  const h = solarH < dawn ? solarH + 24 : solarH;
  const low = day.meanC - swingK[day.sky];
  const rise = 2 * swingK[day.sky];
  if (h <= dusk) return low + rise * Math.sin((Math.PI * (h - dawn)) / (dusk - dawn + 4));
  const atDusk = low + rise * Math.sin((Math.PI * (dusk - dawn)) / (dusk - dawn + 4));
  const nextLow = next.meanC - swingK[next.sky];
  const left = (h - dusk) / (dawn + 24 - dusk);
  const fall = (Math.exp(-2.2 * left) - Math.exp(-2.2)) / (1 - Math.exp(-2.2));
  return nextLow + (atDusk - nextLow) * fall;
}

export function secondWorld(seed: number, options: SecondOptions): SecondWorld {
  const rng = chance(seed);
  const dayOfYear = options.dayOfYear ?? Math.floor(rng.from(115, 190));
  const latDeg = options.latDeg ?? rng.from(41, 55);
  const lonDeg = options.lonDeg ?? rng.from(7, 14);
  const days = weatherDays(rng, options.days, options.weather);
  const startH = rng.from(10, 14);
  const movedAtMs =
    Math.round((Date.UTC(2025, 0, dayOfYear) + (startH - lonDeg / 15) * hourMs) / stepMs) * stepMs;
  const n = Math.round(options.days * stepsPerDay);
  const [fewest, most] = options.frames ?? [5, 7];
  const frames = rng.from(fewest, most);
  const bees = frames * 1400 * rng.from(0.85, 1.15);
  const old = Math.round(bees * rng.from(...(options.share ?? [0.35, 0.6])));
  const world = {
    movedAtMs,
    latDeg,
    lonDeg,
    atMs: new Float64Array(n),
    weightG: new Float64Array(n),
    outsideC: new Float64Array(n),
    rainMm: new Float64Array(n),
    goneG: new Float64Array(n),
    goneShare: new Float64Array(n),
    allG: old * rng.from(0.092, 0.124),
    boxG: new Float64Array(n),
    ownG: new Float64Array(n),
    roofG: new Float64Array(n),
    framesOfBees: Math.round(frames * 2) / 2,
  };
  const fly = flyersHome(rng, old, world.allG);
  const keep = account(rng, bees - old);
  const weigh = scale(rng);
  const [halfC, widthC] = [rng.from(12.5, 17), rng.from(0.7, 1.8)];
  let airNoise = 0;
  let shower = 0;
  for (let i = 0; i < n; i++) {
    const hour = startH + i * stepH;
    // The sun's own day begins at five in the morning.
    const d = Math.floor((hour - 5) / 24);
    const day = days[d] as Day;
    const height = Math.max(0, sunSine(latDeg, dayOfYear + hour / 24, hour % 24));
    airNoise = 0.97 * airNoise + 0.12 * rng.bell();
    const air = airC(day, days[d + 1] as Day, hour % 24) + airNoise;
    if (day.sky === 'rain' && shower <= 0 && rng.even() < 0.025) shower = 3 + Math.floor(24 * rng.even());
    const rain = shower-- > 0 ? rng.from(0.02, 0.3) : 0;
    const light = 1 / (1 + Math.exp(-(height * brightness[day.sky] - 0.12) / 0.04));
    const flight = height > 0 && rain === 0 ? light / (1 + Math.exp(-(air - halfC) / widthC)) : 0;
    const { goneG, share } = fly(flight * day.mood);
    const ownG = keep(air, flight, day.field, i / stepsPerDay);
    const boxG = ownG - goneG;
    const shown = weigh(boxG, air, height * brightness[day.sky], rain);
    world.atMs[i] = movedAtMs + i * stepMs;
    world.outsideC[i] = Math.round(air * 10) / 10;
    world.rainMm[i] = rain;
    world.goneG[i] = goneG;
    world.goneShare[i] = share;
    world.ownG[i] = ownG;
    world.boxG[i] = boxG;
    world.roofG[i] = shown.roofG;
    world.weightG[i] = shown.weightG;
  }
  return world;
}

/** The old bees: 60 % eager, 40 % reluctant; mean trips an hour times the chance of the old stand. */
function flyersHome(rng: Chance, old: number, allG: number) {
  const perH = rng.from(0.5, 1.5) * rng.from(0.3, 0.7);
  const eager = { left: 0.6 * old, rate: 1.5 * perH };
  const reluctant = { left: 0.4 * old, rate: 0.6 * perH };
  /** Gone by now; who flies in this step is gone at its end. */
  return (flight: number): { goneG: number; share: number } => {
    const share = Math.max(0, 1 - (eager.left + reluctant.left) / old);
    for (const one of [eager, reluctant]) {
      const expected = one.left * (1 - Math.exp(-one.rate * flight * stepH));
      one.left = Math.max(0, one.left - Math.max(0, expected + Math.sqrt(expected) * rng.bell()));
    }
    return { goneG: allG * share, share };
  };
}

/** What the nuc itself eats, brings in, dries and has afield, g: less by the hour, more by the day. */
function account(rng: Chance, bees: number) {
  const eatsGPerH = bees * rng.from(0.3, 1) * 1e-3;
  const perKelvin = rng.from(0, 0.02);
  const dayG = rng.from(5, 35);
  const outG = rng.from(5, 40);
  const learnDays = rng.from(2.5, 5);
  let [storesG, wetG] = [rng.from(9000, 22_000), 0];
  return (air: number, flight: number, field: number, day: number): number => {
    const grown = 1 / (1 + Math.exp(-(day - learnDays) / 0.8));
    const nectarG = (dayG * field * grown * flight * stepH) / 6;
    const driedG = (wetG * stepH) / 14;
    wetG += 0.45 * nectarG - driedG;
    storesG += 0.55 * nectarG - eatsGPerH * stepH * (1 + perKelvin * (15 - air));
    return storesG + wetG - outG * grown * flight;
  };
}

/** The scale under it, g. */
function scale(rng: Chance) {
  const gPerK = rng.from(1.5, 8) * (rng.even() < 0.5 ? -1 : 1);
  const sunG = rng.from(0, 30) * (rng.even() < 0.5 ? -1 : 1);
  const noiseG = rng.from(3, 15);
  const swayG = rng.from(3, 12);
  const walkG = rng.from(6, 30);
  const roofG = rng.from(20, 120);
  const lag = stepH / rng.from(0.3, 1.5);
  let [one, two, sun, sway, walk, roof] = [NaN, NaN, 0, 0, 0, 0];
  return (boxG: number, air: number, bright: number, rain: number): { weightG: number; roofG: number } => {
    one = Number.isNaN(one) ? air : one + lag * (air - one);
    two = Number.isNaN(two) ? air : two + lag * (one - two);
    sun += (stepH / 1.2) * (bright - sun);
    sway += -(stepH / 10) * sway + swayG * Math.sqrt((2 * stepH) / 10) * rng.bell();
    walk += walkG * Math.sqrt(stepH / 24) * rng.bell();
    roof = rain > 0 ? Math.min(roofG, roof + 160 * rain) : roof * Math.exp(-stepH * (0.08 + 0.6 * bright));
    const heavyTail = noiseG * rng.bell() * (rng.even() < 0.05 ? 3 : 1);
    return { weightG: boxG + gPerK * (two - 15) + sunG * sun + sway + walk + roof + heavyTail, roofG: roof };
  };
}
