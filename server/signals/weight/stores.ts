/** Stores: what the box weighs less box, bees and brood, what it loses in a day, and how many days that lasts. */
import { beesWeightErrorG, tareError } from '../../biology/scale-figures.ts';
import { level90, z90 } from '../statistics/intervals.ts';
import { broodAndPollenG, nucBeesUsually } from '../../biology/assumed-figures.ts';
import type { BeesOnDay } from '../../biology/nuc-population.ts';
import { workerBodyG } from '../../biology/weight-figures.ts';
import { clock, dayOf, grams, say } from '../../words/phrase.ts';
import { hourMs } from '../series.ts';
import { robustLine } from '../statistics/robust.ts';
import { senSlope } from '../statistics/trend.ts';
import type { Estimate, NightWeight, WeightStep } from '../types.ts';

/** Method: nights without which there is no rate. */
const leastNights = 3;
/** Method: a year stands for an open end. */
const yearDays = 365;
/** Method: scatter of nights, at least. */
const leastSdG = 10;
/** Method: a night weight older than this says nothing of today's stores. */
export const freshNightMs = 48 * hourMs;
/** Method: so many of the newest nights tell the rate. */
export const storesNights = 7;

const seldom = 'the scale tells its weight less than once an hour, too seldom for a night weight';

export interface StoresInput {
  /** Night weights with the steps taken out, oldest first; only those after the foragers' drift. */
  readonly nights: readonly NightWeight[];
  /** Nights that were read while the foragers left are not among them. */
  readonly leavingNights?: boolean;
  /** Gross weight of the newest night as the scale told it. */
  readonly grossG: number | null;
  /** The scale tells its weight too seldom for a night weight. */
  readonly tooSeldom?: boolean;
  /** End of the newest night, where that is too long ago to say anything of today's stores. */
  readonly silentSinceMs?: number;
  /** When the box left its scale, where it has not come back. */
  readonly boxAwaySinceMs?: number;
  readonly tareG?: number;
  /** Bees in the box that night, where they were counted at the split. */
  readonly counted?: Omit<BeesOnDay, 'day'>;
}

export interface Stores {
  readonly storesG: Estimate;
  readonly consumptionGPerDay: Estimate;
  readonly daysLeft: Estimate;
}

/** Night weights as if no step had happened: each later step taken out again. */
export function nightsWithoutSteps(
  nights: readonly NightWeight[],
  steps: readonly WeightStep[],
): NightWeight[] {
  return nights.map((night) => {
    const shift = steps.reduce((sum, step) => (step.atMs < night.toMs ? sum + step.sizeG : sum), 0);
    return { ...night, levelG: night.levelG - shift };
  });
}

export function stores(input: StoresInput): Stores {
  const { silentSinceMs, boxAwaySinceMs } = input;
  if (boxAwaySinceMs !== undefined) {
    const none: Estimate = {
      ok: false,
      why: say`the box has not stood on its scale since ${clock(boxAwaySinceMs)}`,
    };
    return { storesG: none, consumptionGPerDay: none, daysLeft: none };
  }
  if (input.tooSeldom) {
    const none: Estimate = { ok: false, why: seldom };
    return { storesG: none, consumptionGPerDay: none, daysLeft: none };
  }
  if (silentSinceMs !== undefined) {
    const none: Estimate = {
      ok: false,
      why: say`the scale has shown no night since ${dayOf(silentSinceMs)}`,
    };
    return { storesG: none, consumptionGPerDay: none, daysLeft: none };
  }
  const storesG = storesNow(input);
  const rate = consumption(input);
  return { storesG, consumptionGPerDay: rate, daysLeft: daysLeft(storesG, rate) };
}

function storesNow({ grossG, tareG, counted }: StoresInput): Estimate {
  if (grossG === null) return { ok: false, why: 'the scale has not read a full night yet' };
  if (tareG === undefined) return { ok: false, why: 'the weight of the empty box is not entered' };
  if (grossG < tareG)
    return {
      ok: false,
      why: say`the scale reads ${grams(grossG)}, less than the empty box weighs (${grams(tareG)}): check its zero, and the weight entered`,
    };
  const bees = counted?.bees ?? nucBeesUsually.value;
  const value = Math.max(0, grossG - tareG - bees * workerBodyG.value - broodAndPollenG.value);
  const beside = z90 * Math.hypot(beesWeightErrorG.value, tareError.value * tareG);
  const uncounted = z90 * beesWeightErrorG.value;
  const within = (others: number | undefined): number =>
    Math.hypot(beside, others === undefined ? uncounted : Math.abs(others - bees) * workerBodyG.value);
  return {
    ok: true,
    value,
    low: Math.max(0, value - within(counted?.high)),
    high: value + within(counted?.low),
    level: level90,
    restsOn: [
      'the newest night weight',
      'the weight of the empty box',
      counted ? 'the frames counted at the split' : 'bees and brood estimated',
    ],
  };
}

function consumption({ nights, leavingNights }: StoresInput): Estimate {
  const kept = nights.slice(-storesNights);
  const last = kept.at(-1);
  if (!last || kept.length < leastNights) {
    const few = `the scale has read fewer than ${String(leastNights)} nights`;
    return { ok: false, why: leavingNights ? `${few} since the foragers left` : few };
  }
  const line = robustLine(
    kept.map((night) => (night.toMs - last.toMs) / (24 * hourMs)),
    kept.map((night) => night.levelG),
  );
  if (!line) return { ok: false, why: 'the nights that were read lie too close together' };
  // Three or four nights fit a line by luck: no smaller error than 10 g a night.
  const days = kept.map((night) => (night.toMs - last.toMs) / (24 * hourMs));
  const mean = days.reduce((a, b) => a + b, 0) / days.length;
  const sxx = days.reduce((sum, d) => sum + (d - mean) ** 2, 0);
  const half = (2 * Math.max(line.residualSd, leastSdG)) / Math.sqrt(sxx);
  // Sen's slope: a night of rain on the roof among three to seven moves it little.
  const value = -senSlope(
    kept.map((night) => night.levelG),
    days,
  );
  return {
    ok: true,
    value,
    low: value - half,
    high: value + half,
    level: level90,
    restsOn: [`${String(kept.length)} nights`],
  };
}

function daysLeft(storesG: Estimate, rate: Estimate): Estimate {
  if (!storesG.ok) return storesG;
  if (!rate.ok) return rate;
  if (rate.high <= 0) return { ok: false, why: 'the nuc is gaining weight' };
  if (rate.value <= 1) return { ok: false, why: 'the loss a day is too small to tell when the stores end' };
  const value = storesG.value / rate.value;
  return {
    ok: true,
    value,
    low: Math.min(value, storesG.low / rate.high),
    // A rate whose lower end is near nothing leaves the end open; a year stands for that.
    high: Math.max(value, Math.min(yearDays, storesG.high / Math.max(rate.low, storesG.high / yearDays))),
    level: level90,
    restsOn: [...storesG.restsOn, ...rate.restsOn],
  };
}
