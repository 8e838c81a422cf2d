/**
 * Handlings of known time laid into days of scales that nobody touched: how many the steps find, through the check at
 * entry and the steps' own, at several intervals. A handling: the lid or a box off, or frame after frame, for minutes.
 */
import { qualityGate } from '../../ingest/quality.ts';
import { minuteMs, pick } from '../../server/signals/series.ts';
import type { Series } from '../../server/signals/types.ts';
import { weightSteps } from '../../server/signals/weight/weight-steps.ts';
import { rngFor, type Rng } from '../../simulator/random.ts';
import { thinned } from './watched-hive.ts';

export interface Handling {
  readonly fromMs: number;
  readonly toMs: number;
}

export interface Found {
  /** Handlings that lasted as long as the sensor's interval or longer, and those of them found. */
  readonly long: number;
  readonly longFound: number;
  readonly short: number;
  readonly shortFound: number;
  /** Steps where nobody handled anything. */
  readonly made: number;
}

const dayMs = 24 * 60 * minuteMs;
/** The log's clock is the keeper's. */
const nearMs = 10 * minuteMs;

/** What is on the scale in one minute of a handling, as a change of the weight, g. */
type Doing = (minute: number) => number;

/** Weights of lids, boxes and frames: common practice. */
function doing(rng: Rng, boxG: number): { readonly at: Doing; readonly keptG: number } {
  const keptG = rng.chance(0.4) ? rng.between(-2500, 2500) : 0;
  const kind = rng.whole(0, 2);
  if (kind === 0) {
    const lidG = rng.between(1500, 4000);
    return { at: () => -lidG, keptG };
  }
  if (kind === 1) return { at: () => -rng.between(0.5, 0.97) * boxG, keptG };
  // Lid off, and a frame up or a hand on the box in most minutes.
  const lidG = rng.between(1000, 2500);
  return { at: () => -lidG - rng.between(-800, 2500), keptG };
}

/** The day with two handlings of 5 to 20 minutes laid in, hours apart, and where they lie. */
function handled(day: Series, rng: Rng): { readonly weightG: Series; readonly handlings: Handling[] } {
  const midnight = Math.floor((day.atMs[0] ?? 0) / dayMs) * dayMs;
  const firstMs = day.atMs[0] ?? midnight;
  const value = Float64Array.from(day.value);
  const handlings = [8.5, 13.5].map((hour): Handling => {
    const fromMs = firstMs + Math.round((hour + rng.between(0, 3)) * 60) * minuteMs;
    return { fromMs, toMs: fromMs + rng.whole(5, 20) * minuteMs };
  });
  for (const { fromMs, toMs } of handlings) {
    const { at, keptG } = doing(rng, Math.min(...day.value));
    for (let i = 0; i < value.length; i++) {
      const atMs = day.atMs[i] as number;
      if (atMs >= toMs) value[i] = (value[i] as number) + keptG;
      else if (atMs >= fromMs) value[i] = (value[i] as number) + at((atMs - fromMs) / minuteMs);
    }
  }
  return { weightG: { atMs: day.atMs, value }, handlings };
}

/** Without what the check at entry flags. */
function entered(weightG: Series): Series {
  const gate = qualityGate();
  return pick(weightG, (i) => {
    const atMs = weightG.atMs[i] as number;
    const reading = { sensor: 's', probe: '', quantity: 'weight', unit: 'kg' } as const;
    const value = (weightG.value[i] as number) / 1000;
    return gate.judge({ ...reading, value, observedAtMs: atMs, receivedAtMs: atMs }).suspect === undefined;
  });
}

/** One day of one scale, handled twice, read every `everyMs`. */
export function foundOn(day: Series, seed: number, everyMs: number): Found {
  const rng = rngFor(seed, 'handlings');
  const { weightG, handlings } = handled(day, rng);
  const read = entered(thinned(weightG, everyMs));
  const steps = weightSteps(read, -Infinity, Infinity, { events: [] });
  const isNear = ({ fromMs, toMs }: Handling, atMs: number, untilMs: number): boolean =>
    atMs <= toMs + Math.max(nearMs, everyMs) && untilMs >= fromMs - Math.max(nearMs, everyMs);
  const isFound = (one: Handling): boolean =>
    steps.some(({ atMs, untilMs = atMs }) => isNear(one, atMs, untilMs));
  const isLong = ({ fromMs, toMs }: Handling): boolean => toMs - fromMs >= everyMs;
  const [long, short] = [handlings.filter(isLong), handlings.filter((one) => !isLong(one))];
  const made = steps.filter(
    ({ atMs, untilMs = atMs }) => !handlings.some((one) => isNear(one, atMs, untilMs)),
  );
  return {
    long: long.length,
    longFound: long.filter(isFound).length,
    short: short.length,
    shortFound: short.filter(isFound).length,
    made: made.length,
  };
}

export function sumOf(all: readonly Found[]): Found {
  const sum = (of: keyof Found): number => all.reduce((total, one) => total + one[of], 0);
  return {
    long: sum('long'),
    longFound: sum('longFound'),
    short: sum('short'),
    shortFound: sum('shortFound'),
    made: sum('made'),
  };
}
