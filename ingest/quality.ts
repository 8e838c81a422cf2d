/**
 * Flags readings at entry: kept as they came, marked suspect, with the reason. Only what is known at that moment is
 * used; the filter over whole series is in `signals`.
 */
import { ByChannel } from '../server/store/by-channel.ts';
import type {
  CalibratedChannel,
  CalibratedLine,
  IncomingReading,
  SuspectReason,
} from '../server/store/port.ts';
import {
  countSentinels,
  powerOnC,
  powerOnNearC,
  qualityFigures,
  stuckReadings,
  type QualityFigures,
} from './quality-figures.ts';

/** What is remembered of a channel; values as calibrated. */
interface Trace {
  /** Another calibration begins another trace: its step is none of the sensor's. */
  readonly line: CalibratedLine | undefined;
  lastMs: number;
  last: number;
  believed: number;
  believedMs: number;
  /** A jump that waits for the next reading to agree with it. */
  doubted: number | undefined;
  /** The last five believed values, oldest first. */
  recent: number[];
  /** Since when, and how often, the very same value came. */
  sameSinceMs: number;
  sameCount: number;
}

export interface QualityGate {
  /**
   * The reading, flagged where it is suspect. A flag that the decoder set stays, but for counts of a scale that has been
   * calibrated. What is judged is the calibrated value; what is kept is the raw one.
   */
  readonly judge: (reading: IncomingReading) => IncomingReading;
  setCalibrated(channels: readonly CalibratedChannel[]): void;
  channels(): number;
}

const maxChannels = 20_000;
const recentLength = 5;
/** After a longer pause the last value says nothing about this one. */
const maxGapMs = 3_600_000;
const sameValue = 1e-9;

const isOneOf = (value: number, sentinels: readonly number[]): boolean =>
  sentinels.some((sentinel) => Math.abs(value - sentinel) < 1e-6);

function isPowerOn({ unit, value }: IncomingReading, before: Trace | undefined): boolean {
  if (unit !== 'Cel' || Math.abs(value - powerOnC) > sameValue) return false;
  return before === undefined || Math.abs(before.believed - powerOnC) > powerOnNearC;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? 0) + upper) / 2;
}

/** A jump is doubted once; when the next reading agrees with it, it is the new level. */
const isConfirmed = (value: number, { doubted }: Trace, figures: QualityFigures): boolean =>
  doubted !== undefined && Math.abs(value - doubted) <= (figures.spikeFloor ?? 0) / 2;

function isTooFast(value: number, atMs: number, before: Trace, figures: QualityFigures): boolean {
  if (figures.ratePerMinute === undefined) return false;
  const minutes = Math.max(1, (atMs - before.believedMs) / 60_000);
  return Math.abs(value - before.believed) > figures.ratePerMinute * minutes;
}

function isSpike(value: number, before: Trace, figures: QualityFigures): boolean {
  if (figures.spikeFloor === undefined || before.recent.length < recentLength) return false;
  // The usual reading is near the last one; the medians are for the others.
  if (Math.abs(value - before.believed) <= figures.spikeFloor) return false;
  const middle = median(before.recent);
  if (value < middle && value >= (figures.fallsTrueFrom ?? Infinity)) return false;
  // 1.4826 makes the median absolute deviation a standard deviation for normal noise; 6 of them are no noise.
  const spread = 6 * 1.4826 * median(before.recent.map((each) => Math.abs(each - middle)));
  return Math.abs(value - middle) > Math.max(figures.spikeFloor, spread);
}

function isStuck({ observedAtMs }: IncomingReading, trace: Trace, figures: QualityFigures): boolean {
  if (figures.stuckHours === undefined || trace.sameCount < stuckReadings) return false;
  return observedAtMs - trace.sameSinceMs >= figures.stuckHours * 3_600_000;
}

function suspicion(reading: IncomingReading, before: Trace | undefined): SuspectReason | undefined {
  const { value, observedAtMs, unit } = reading;
  const figures = qualityFigures[unit];
  const [low, high] = figures.range;
  // Every sentinel but one lies outside the range, so that the usual reading is not compared with each of them.
  if (value < low || value > high) return isOneOf(value, figures.sentinels) ? 'sentinel' : 'range';
  if (isPowerOn(reading, before)) return 'sentinel';
  if (!before || observedAtMs <= before.lastMs || observedAtMs - before.lastMs > maxGapMs) return undefined;
  if (!isConfirmed(value, before, figures)) {
    if (isTooFast(value, observedAtMs, before, figures)) return 'rate';
    if (isSpike(value, before, figures)) return 'spike';
  }
  const same = Math.abs(value - before.last) < sameValue;
  return same && isStuck(reading, before, figures) ? 'stuck' : undefined;
}

const firstTrace = ({ value, observedAtMs }: IncomingReading, line: CalibratedLine | undefined): Trace => ({
  line,
  lastMs: observedAtMs,
  last: value,
  believed: value,
  believedMs: observedAtMs,
  doubted: undefined,
  recent: [value],
  sameSinceMs: observedAtMs,
  sameCount: 1,
});

function follow(
  trace: Trace,
  { value, observedAtMs }: IncomingReading,
  reason: SuspectReason | undefined,
): void {
  // Late readings and readings that are none leave the picture of the newest as it is.
  if (observedAtMs <= trace.lastMs || reason === 'sentinel' || reason === 'range') return;
  if (Math.abs(value - trace.last) < sameValue) trace.sameCount += 1;
  else {
    trace.sameSinceMs = observedAtMs;
    trace.sameCount = 1;
  }
  trace.lastMs = observedAtMs;
  trace.last = value;
  if (reason === 'rate' || reason === 'spike') {
    trace.doubted = value;
    return;
  }
  // A confirmed jump starts a new level: the old one must not make it look like a spike again.
  if (trace.doubted !== undefined && isFar(value, trace)) trace.recent = [trace.doubted];
  trace.doubted = undefined;
  trace.believed = value;
  trace.believedMs = observedAtMs;
  trace.recent.push(value);
  if (trace.recent.length > recentLength) trace.recent.shift();
}

const isFar = (value: number, { believed, doubted = value }: Trace): boolean =>
  Math.abs(value - doubted) < Math.abs(value - believed);

const flagged = (reading: IncomingReading, reason: SuspectReason): IncomingReading => ({
  ...reading,
  suspect: reason,
});

/** As it is judged: what it means, without the flag of counts. */
function meant({ suspect: _none, ...reading }: IncomingReading, line: CalibratedLine): IncomingReading {
  return { ...reading, value: line.apply(reading.value) };
}

export function qualityGate(): QualityGate {
  const traces = new ByChannel<Trace>();
  let calibrated = new ByChannel<CalibratedChannel>();

  function remember(reading: IncomingReading, line: CalibratedLine | undefined): void {
    // More than the store takes: a flood of made-up names, in which the true ones are found again.
    if (traces.size >= maxChannels) traces.clear();
    traces.set(reading, firstTrace(reading, line));
  }

  function whySuspect(reading: IncomingReading, line: CalibratedLine | undefined): SuspectReason | undefined {
    const known = traces.get(reading);
    const before = known?.line === line ? known : undefined;
    const reason = suspicion(reading, before);
    if (before) follow(before, reading, reason);
    else if (reason === undefined && !isLate(reading, known)) remember(reading, line);
    return reason;
  }

  function judge(reading: IncomingReading): IncomingReading {
    const isCounts = reading.suspect === 'uncalibrated';
    // A reading whose clock was wrong says nothing about rates.
    if (reading.suspect !== undefined && !isCounts) return reading;
    if (isCounts && isOneOf(reading.value, countSentinels)) return flagged(reading, 'sentinel');
    const line = calibrated.size === 0 ? undefined : calibrated.get(reading)?.lineAt(reading.observedAtMs);
    if (isCounts && line?.scaled !== true) return reading;
    const reason = whySuspect(line ? meant(reading, line) : reading, line);
    if (reason !== undefined) return flagged(reading, reason);
    if (!isCounts) return reading;
    const { suspect: _known, ...believed } = reading;
    return believed;
  }

  return {
    judge,
    setCalibrated(channels) {
      calibrated = new ByChannel();
      for (const each of channels) calibrated.set(each.channel, each);
    },
    channels: () => traces.size,
  };
}

/** From before the calibration that holds now. */
const isLate = ({ observedAtMs }: IncomingReading, known: Trace | undefined): boolean =>
  known !== undefined && observedAtMs <= known.lastMs;
