/** The rows of the fit, made again only where a reading, a step or the weather changed them. */
import { stepErrorG, visitChangeG } from '../../biology/figures.ts';
import { fingerprint, memoize, type AnalysisCache } from '../analysis-cache.ts';
import { binMs } from '../bins.ts';
import { between, hourMs } from '../series.ts';
import type { KnownEvent, WeightStep } from '../types.ts';
import { driftLagsMs } from './drift-columns.ts';
import { driftWindowMs, type DriftInput, type Flying } from './drift-input.ts';
import { driftRows, leavingMs, withoutSteps, type DriftData, type Jump } from './drift-rows.ts';

/**
 * Method: rows are made of half hours and hours that are over, and put to the fit three hours at a time while the
 * foragers leave fastest …
 */
const openMs = 3 * hourMs;
/** Method: … then six … */
const openLaterMs = 6 * hourMs;
/** Method: … and at last twelve … */
const openAtLastMs = 12 * hourMs;
/** Method: … from the fifth day on: of so many days they tell next to nothing new. */
const openAtLastFromMs = 96 * hourMs;
/** What is kept of the rows: they themselves, a third of all that is kept of a nuc, are made again where a fit asks for them. */
export interface AboutRows extends Pick<DriftData, 'thermometer' | 'nights'> {
  /** Tells one set of rows from another. */
  readonly key: string;
  readonly count: number;
  readonly settled: boolean;
}

interface Rows extends AboutRows {
  readonly rows: () => DriftData;
}

const aboutRows = (data: DriftData): AboutRows => ({
  key: rowsKey(data),
  count: data.rows.length,
  thermometer: data.thermometer,
  nights: data.nights,
  settled: data.settledG.length > 0,
});

/** Rows of the fit. The newest hour is left open, so that they are the same until it is over. */
export function rowsOf(
  input: DriftInput,
  { movedAtMs, hours, lawChances }: Flying,
  cache: AnalysisCache | undefined,
): Rows {
  const { flight } = input;
  const closedMs = Math.min(input.nowMs, movedAtMs + driftWindowMs);
  const whole = (atMs: number, stepMs: number): number => Math.floor(atMs / stepMs) * stepMs;
  // Never back to an earlier end, where the steps become longer.
  const untilMs = Math.max(
    whole(Math.min(closedMs, movedAtMs + leavingMs), openMs),
    whole(Math.min(closedMs, movedAtMs + openAtLastFromMs), openLaterMs),
    whole(closedMs, openAtLastMs),
  );
  const weight = between(input.weight, -Infinity, untilMs);
  const outside = between(input.outside, -Infinity, untilMs);
  const rain = input.rain && between(input.rain, flight.fromMs - 2 * hourMs, untilMs);
  const steps = input.steps.filter((step) => step.atMs < untilMs);
  const settled = input.settled && between(input.settled, movedAtMs, untilMs);
  const disturbedAtMs = [...steps, ...input.events].map((e) => e.atMs).filter((at) => at < untilMs);
  const jumps = jumpsOf(input.events, steps, movedAtMs, untilMs);
  const dayStartsMs = input.dayStartsMs.filter((start) => start < untilMs);
  const flownBins = Math.max(0, Math.round((untilMs - flight.fromMs) / binMs));
  const read = [
    ...[weight, outside, rain, settled].map((series) => (series ? fingerprint(series) : '-')),
    fingerprint({ atMs: new Float64Array(0), value: flight.activity.subarray(0, flownBins) }),
    hours.length.toString(),
    JSON.stringify(jumps),
    [disturbedAtMs, steps.map((step) => step.sizeG), dayStartsMs].map((list) => list.join()).join(';'),
  ].join(' ');
  let made: DriftData | undefined;
  const rows = (): DriftData =>
    (made ??= driftRows({
      movedAtMs,
      untilMs,
      dayStartsMs,
      weight: withoutSteps(weight, steps, movedAtMs),
      outside,
      ...(rain ? { rain } : {}),
      flight,
      flownHours: hours,
      lawChances,
      ...(settled ? { settled } : {}),
      disturbedAtMs,
      jumps,
      lagsMs: driftLagsMs,
    }));
  const about = memoize(cache, 'drift-rows', [movedAtMs, untilMs, read], () => aboutRows(rows()));
  return { ...about, rows };
}

/** Steps that were taken out, and visits that may have changed a little. */
function jumpsOf(
  events: readonly KnownEvent[],
  steps: readonly WeightStep[],
  movedAtMs: number,
  untilMs: number,
): Jump[] {
  const at = (atMs: number, sdG: number): Jump => ({ hours: (atMs - movedAtMs) / hourMs, sdG });
  const sized = steps
    .filter((step) => step.atMs > movedAtMs)
    .map((step) => at(step.atMs, Math.hypot(step.sizeSdG, stepErrorG.value)));
  const seen = (atMs: number): boolean => steps.some((step) => Math.abs(step.atMs - atMs) < hourMs);
  const visits = events
    .filter(({ atMs }) => atMs > movedAtMs + hourMs && atMs < untilMs && !seen(atMs))
    .map(({ atMs }) => at(atMs, visitChangeG.value));
  return [...sized, ...visits];
}

/** Tells one set of rows from another: their number and a sum over all that the fit reads. */
function rowsKey({
  rows,
  warmthKh,
  outsideC,
  settledG,
  settledInDayG,
  jumps,
  lawChances,
}: DriftData): string {
  let sum = 0;
  const lags = [...outsideC.values()];
  rows.forEach((row, i) => {
    const flown = [...row.flownByDay, ...row.flownH].reduce((total, h, day) => total + (day + 2) * h, 0);
    const outside = lags.reduce((total, lag) => total + (lag[i] || 0), 0);
    const about = row.noiseVar + row.wet + row.sunDeg + row.activity + (row.quiet ? 1 : 0);
    const other = (warmthKh[i] ?? 0) + 2 * (settledG[i] ?? 0) - (settledInDayG[i] ?? 0);
    sum += (i + 1) * (row.weightG + row.hours + flown + outside + about + other);
  });
  const jumped = jumps.reduce((total, { hours, sdG }) => total + hours * sdG, 0);
  return `${String(rows.length)} ${String(lawChances.length)} ${String(sum)} ${String(jumped)}`;
}
