/** Brood nest: level, spread, share in band and coupling to the outside, against what its stage should show. */
import { withLater } from '../../lazily.ts';
import { nestMemoryHours, probeAtEdgeK } from '../../biology/nest-figures.ts';
import { level90, ofNormal, tenths, z90 } from '../statistics/intervals.ts';
import { clock, say, type Sentence } from '../../words/phrase.ts';
import { highEnd, lowEnd } from '../../biology/figure.ts';
import { broodNestC } from '../../biology/thermal-figures.ts';
import { binMs } from '../bins.ts';
import { between, hourMs, latest, usualIntervalMs } from '../series.ts';
import { quantiles } from '../statistics/robust.ts';
import type { BroodRegime, BroodTemperature, Estimate, Series } from '../types.ts';
import { dayMs } from '../../durations.ts';

const independentMs = nestMemoryHours.value * hourMs;
/** Method: six hours of readings tell a day’s level. */
const leastHours = 6;
/** Method: a probe that missed so many of its readings is late. */
const lateIntervals = 3;

/** Setting: hours without a change after which a temperature is no measurement. Common practice. */
export const stuckHours = 18;
const stuckMs = stuckHours * hourMs;

/**
 * Band in which a nest of this regime is expected: 33-36 °C with brood (Jones et al. 2005 and others), half a degree
 * wider below while only sealed brood is left; none without brood, where level and spread say little.
 */
export function expectedBand(regime: BroodRegime): { low: number; high: number } | null {
  const low = lowEnd(broodNestC);
  const high = highEnd(broodNestC);
  if (regime === 'open-brood' || regime === 'new-brood-expected') return { low, high };
  return regime === 'sealed-brood' ? { low: low - probeAtEdgeK.value, high } : null;
}

/** `coupling` is dear: it is called when it is asked for. */
export function broodTemperature(
  regime: BroodRegime,
  raw: Series | undefined,
  brood: Series,
  nowMs: number,
  coupling: () => Estimate,
): BroodTemperature {
  const newest = latest(raw, nowMs);
  const day = between(brood, nowMs - dayMs, nowMs + 1);
  const common = {
    regime,
    bandC: expectedBand(regime),
    latestC: newest?.value ?? null,
    latestAtMs: newest?.atMs ?? null,
  };
  const silent = silentWhy(raw, nowMs);
  const hours = hoursRead(raw, day, nowMs);
  if (!raw || silent !== null || hours < leastHours) {
    const why = !raw
      ? 'no sensor reports the brood temperature'
      : (silent ?? 'fewer than six hours of brood temperature in the last day');
    const none: Estimate = { ok: false, why };
    return { levelC: none, spreadC: none, shareInBand: none, coupling: none, ...common };
  }
  const restsOn = [`${hours.toFixed(0)} of the last 24 hours`];
  const independent = Math.max(2, (hours * hourMs) / independentMs);
  const [p10, p50, p90] = quantiles(day.value, tenths.low, tenths.middle, tenths.high) as [
    number,
    number,
    number,
  ];
  const spread = p90 - p10;
  // A normal's p90 − p10 is 2.56 sd; its median errs by 1.25 sd/√n, the spread by about 2.4 sd/√n.
  const sd = spread / ofNormal.tenthsSd;
  const known = {
    levelC: estimate(p50, (z90 * ofNormal.medianError * sd) / Math.sqrt(independent), restsOn),
    spreadC: estimate(spread, (z90 * ofNormal.tenthsError * sd) / Math.sqrt(independent), restsOn, 0),
    shareInBand: shareEstimate(day.value, common.bandC, independent, restsOn),
    ...common,
  };
  // Asked for only where the nest is out of its band, or somebody reads of it.
  return withLater(known, { coupling });
}

/** Hours of the day that its bins stand for: where the sensor reads less often than each ten minutes, each stands for its own interval. */
function hoursRead(raw: Series | undefined, { value }: Series, nowMs: number): number {
  const everyMs = raw ? usualIntervalMs(between(raw, nowMs - dayMs, nowMs + 1)) : null;
  const grainMs = Math.max(binMs, Math.min(hourMs, everyMs ?? binMs));
  return Math.min(dayMs, value.length * grainMs) / hourMs;
}

function estimate(value: number, half: number, restsOn: readonly Sentence[], floor = -Infinity): Estimate {
  return {
    ok: true,
    value,
    low: Math.max(floor, value - half),
    high: value + half,
    level: level90,
    restsOn,
  };
}

function shareEstimate(
  values: Float64Array,
  band: { low: number; high: number } | null,
  independent: number,
  restsOn: readonly Sentence[],
): Estimate {
  if (!band) return { ok: false, why: 'without brood no band is expected' };
  const share = values.filter((v) => v >= band.low && v <= band.high).length / values.length;
  // Agresti and Coull's interval, which does not vanish at 0 and 1.
  const n = independent + z90 ** 2;
  const centre = (share * independent + z90 ** 2 / 2) / n;
  const half = z90 * Math.sqrt((centre * (1 - centre)) / n);
  return {
    ok: true,
    value: share,
    low: Math.max(0, Math.min(share, centre - half)),
    high: Math.min(1, Math.max(share, centre + half)),
    level: level90,
    restsOn,
  };
}

/** Method: in so long without a reading a value may have moved and come back. */
export const unwatchedMs = 3 * hourMs;

/** Since when the value has not moved by a digit, ms; of a series that holds a reading. */
function unchangedSinceMs({ atMs, value }: Series): number {
  const isNext = (i: number): boolean => (atMs[i] as number) - (atMs[i - 1] as number) <= unwatchedMs;
  let i = value.length - 1;
  while (i > 0 && value[i - 1] === value[i] && isNext(i)) i -= 1;
  return atMs[i] as number;
}

/**
 * Why a probe counts as silent: it sends the same value for longer than a probe can, or its last plausible reading is
 * longer ago than an hour and three of its own intervals. Null while it reports, and where none is assigned. `raw` are
 * its last two days, cleaned.
 */
export function silentWhy(raw: Series | undefined, nowMs: number): Sentence | null {
  if (!raw) return null;
  const newest = latest(raw, nowMs);
  if (!newest) return 'no plausible reading of the brood probe in the last two days';
  const ageMs = nowMs - newest.atMs;
  if (ageMs > hourMs && ageMs > lateIntervals * (usualIntervalMs(raw) ?? 0))
    return say`the newest reading of the brood probe is of ${clock(newest.atMs)}`;
  const sameSinceMs = unchangedSinceMs(raw);
  return newest.atMs - sameSinceMs < stuckMs
    ? null
    : say`the brood probe has sent the very same value since ${clock(sameSinceMs)}`;
}
