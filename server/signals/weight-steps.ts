/**
 * Weight steps: box opened, lifted or toppled, frame or feed added or taken. A step is fast (minutes), lasting,
 * and unlike bees that fly out (an hour) or water on the roof (in rain).
 */
import { fitStep, type StepFit } from './step-size.ts';
import { hourMs, minuteMs, usualIntervalMs } from './series.ts';
import { median, medianOfWindow } from './statistics/robust.ts';
import type { KnownEvent, Series, StepKind, WeightStep } from './types.ts';

/** Least lasting change that is told, and least change while disturbed that counts as opened. */
export const leastStepG = 150;
const leastDisturbanceG = 350;
/** Bees take more than this to leave; a hand takes less. */
const longestRiseMs = 6 * minuteMs;
/** Readings this close to a logged event may be its doing: the log's clock is the keeper's. */
export const eventReachMs = 45 * minuteMs;
const aroundMs = hourMs;

export interface StepContext {
  readonly events: readonly KnownEvent[];
  readonly rain?: Series;
}

/** A stretch in which the scale was disturbed: last steady instant before it, first one after. */
interface Disturbance {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Steps with `atMs` in [fromMs, toMs). `weight` should reach two hours beyond on both sides. */
export function weightSteps(
  weight: Series,
  fromMs: number,
  toMs: number,
  context: StepContext,
): WeightStep[] {
  const interval = usualIntervalMs(weight);
  if (interval === null) return [];
  const disturbances = findDisturbances(weight, interval);
  const steps: WeightStep[] = [];
  disturbances.forEach((disturbance, i) => {
    if (disturbance.fromMs < fromMs || disturbance.fromMs >= toMs) return;
    const freeFromMs = disturbances[i - 1]?.toMs ?? -Infinity;
    const freeToMs = disturbances[i + 1]?.fromMs ?? Infinity;
    const step = readStep(weight, interval, disturbance, freeFromMs, freeToMs, context);
    if (step) steps.push(step);
  });
  return steps;
}

/** Boundaries where the medians of the readings on both sides differ by more than noise, joined to disturbances. */
function findDisturbances(weight: Series, interval: number): Disturbance[] {
  const n = weight.value.length;
  const k = Math.min(12, Math.max(2, Math.round((12 * minuteMs) / interval)));
  const scratch = new Float64Array(k);
  const noise = differenceNoise(weight);
  // A third of the least step: a frame taken out slowly shows as two smaller jumps.
  const limit = Math.max(80, (5 * noise) / Math.sqrt(k));
  const found: { fromMs: number; toMs: number }[] = [];
  let i = k;
  while (i <= n - k) {
    if (Math.abs(jumpAt(weight, i, k, scratch)) < limit) {
      i++;
      continue;
    }
    // The steepest place of this stretch.
    let best = i;
    let size = 0;
    while (i <= n - k) {
      const jump = Math.abs(jumpAt(weight, i, k, scratch));
      if (jump < limit) break;
      if (jump > size) {
        size = jump;
        best = i;
      }
      i++;
    }
    const at = { fromMs: weight.atMs[best - 1] as number, toMs: weight.atMs[best] as number };
    const last = found.at(-1);
    if (last && at.fromMs - last.toMs < 40 * minuteMs) last.toMs = at.toMs;
    else found.push(at);
  }
  return found;
}

function jumpAt(weight: Series, i: number, k: number, scratch: Float64Array): number {
  const before = medianOfWindow(weight.value, i - k, i, scratch);
  return medianOfWindow(weight.value, i, i + k, scratch) - before;
}

/** Noise of a single reading from the differences of neighbours, which steps and slopes hardly touch. */
function differenceNoise(weight: Series): number {
  const n = weight.value.length;
  const differences: number[] = [];
  for (let i = 1; i < n; i++) {
    differences.push(Math.abs((weight.value[i] as number) - (weight.value[i - 1] as number)));
  }
  return (1.4826 * median(differences)) / Math.SQRT2;
}

function readStep(
  weight: Series,
  interval: number,
  disturbance: Disturbance,
  freeFromMs: number,
  freeToMs: number,
  context: StepContext,
): WeightStep | null {
  const reachMs = Math.max(aroundMs, 6 * interval);
  const at: number[] = [];
  const value: number[] = [];
  for (let i = 0; i < weight.atMs.length; i++) {
    const t = weight.atMs[i] as number;
    if (t < Math.max(disturbance.fromMs - reachMs, freeFromMs)) continue;
    if (t > Math.min(disturbance.toMs + reachMs, freeToMs)) break;
    at.push(t);
    value.push(weight.value[i] as number);
  }
  const widened = widen(at, value, disturbance);
  const fit = fitStep(at, value, widened.fromMs, widened.toMs);
  if (!fit) return null;
  const excursionG = excursion(at, value, fit, widened);
  const explainedBy = explanation(context.events, widened);
  const isDisturbed = excursionG >= leastDisturbanceG;
  const lasting = Math.abs(fit.sizeG) >= Math.max(leastStepG, 4 * fit.sdG);
  if (!isDisturbed && !lasting) return null;
  if (!isDisturbed && !explainedBy && isSlow(at, value, fit, widened, interval)) return null;
  if (!isDisturbed && !explainedBy && isRain(context.rain, widened, fit.sizeG)) return null;
  const kind = kindOf(fit, excursionG, isDisturbed, lasting, explainedBy);
  return {
    atMs: widened.fromMs,
    sizeG: fit.sizeG,
    sizeSdG: fit.sdG,
    kind,
    ...(explainedBy ? { explainedBy } : {}),
  };
}

/** Takes in readings at the edges of a disturbance that belong to neither side's level. */
function widen(at: readonly number[], value: readonly number[], d: Disturbance): Disturbance {
  const before = value.filter((_, i) => (at[i] as number) <= d.fromMs);
  const after = value.filter((_, i) => (at[i] as number) >= d.toMs);
  if (before.length < 6 || after.length < 6) return d;
  const off = (part: readonly number[]) => {
    const centre = median(part);
    const spread = Math.max(15, 1.4826 * median(part.map((v) => Math.abs(v - centre))));
    return (v: number) => Math.abs(v - centre) > 5 * spread;
  };
  const offBefore = off(before.slice(-12));
  const offAfter = off(after.slice(0, 12));
  const times = at.filter((t) => t <= d.fromMs);
  let fromMs = d.fromMs;
  for (let i = before.length - 1; i > 2 && offBefore(before[i] as number); i--)
    fromMs = times[i - 1] as number;
  let toMs = d.toMs;
  const later = at.filter((t) => t >= d.toMs);
  for (let i = 0; i < after.length - 3 && offAfter(after[i] as number); i++) toMs = later[i + 1] as number;
  return { fromMs, toMs };
}

/** How far the readings inside a disturbance lie from both levels, g: lid off, box up. */
function excursion(at: readonly number[], value: readonly number[], fit: StepFit, d: Disturbance): number {
  const low = Math.min(fit.beforeG, fit.beforeG + fit.sizeG);
  const high = Math.max(fit.beforeG, fit.beforeG + fit.sizeG);
  const inside = value.filter((_, i) => (at[i] as number) > d.fromMs && (at[i] as number) < d.toMs);
  if (inside.length === 0) return 0;
  return Math.max(0, ...inside.map((v) => Math.max(low - v, v - high)));
}

/** Whether the change took longer than a hand takes: the time from a fifth to four fifths of it. */
function isSlow(
  at: readonly number[],
  value: readonly number[],
  fit: StepFit,
  d: Disturbance,
  interval: number,
): boolean {
  const share = value.map(
    (v, i) => (v - fit.beforeG - (fit.slopeGPerH * ((at[i] as number) - d.fromMs)) / hourMs) / fit.sizeG,
  );
  const calm = share.map((_, i) => median(share.slice(Math.max(0, i - 2), i + 3)));
  let lastLow = -Infinity;
  let firstHigh = Infinity;
  for (let i = 0; i < calm.length; i++) if ((calm[i] as number) < 0.2) lastLow = at[i] as number;
  for (let i = calm.length - 1; i >= 0; i--) if ((calm[i] as number) > 0.8) firstHigh = at[i] as number;
  return firstHigh - lastLow > Math.max(longestRiseMs, 1.5 * interval);
}

/** Water on the roof: a gain while it rains that a roof can hold. */
function isRain(rain: Series | undefined, d: Disturbance, sizeG: number): boolean {
  if (!rain || sizeG <= 0 || sizeG > 400) return false;
  for (let i = 0; i < rain.atMs.length; i++) {
    const t = rain.atMs[i] as number;
    if (t > d.fromMs - 30 * minuteMs && t < d.toMs + 30 * minuteMs && (rain.value[i] as number) > 0)
      return true;
  }
  return false;
}

function explanation(events: readonly KnownEvent[], d: Disturbance): KnownEvent | undefined {
  let best: KnownEvent | undefined;
  let distance = eventReachMs;
  for (const event of events) {
    const away = Math.max(d.fromMs - event.atMs, event.atMs - d.toMs, 0);
    if (away > distance) continue;
    best = event;
    distance = away;
  }
  return best;
}

function kindOf(
  fit: StepFit,
  excursionG: number,
  isDisturbed: boolean,
  lasting: boolean,
  explainedBy: KnownEvent | undefined,
): StepKind {
  const afterG = fit.beforeG + fit.sizeG;
  if (afterG < 0.05 * fit.beforeG) return 'gone';
  if (fit.sizeG < -0.5 * fit.beforeG) return 'toppled';
  if (!explainedBy && isDisturbed && excursionG > 0.85 * Math.min(fit.beforeG, afterG)) return 'lifted';
  if (lasting && explainedBy?.kind === 'fed' && fit.sizeG > 0) return 'fed';
  if (lasting && !isDisturbed) return fit.sizeG > 0 ? 'added' : 'taken';
  if (lasting && explainedBy) return fit.sizeG > 0 ? 'added' : 'taken';
  return 'opened';
}
