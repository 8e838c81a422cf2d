/**
 * How one channel has been doing, kept up reading by reading in the order in which they came, so that one more costs the
 * same after a day and after years. The watch and a replay of the past are told the same by it.
 */
import { unwatchedMs } from '../signals/brood/brood-temperature.ts';
import { linearRegression } from 'simple-statistics';
import type { ChannelHealth } from '../rules/engine/inputs.ts';
import { dayMs, hourMs } from '../durations.ts';
import type { Channel } from '../store/channels/channels.ts';

/** Gaps from which the usual interval is learnt: a late batch or a night's silence can't move their median. */
const keptGaps = 41;
const fewestGaps = 4;

interface HourCounts {
  readings: number;
  suspects: number;
  wrongClocks: number;
}

export interface ChannelState {
  lastHeardMs: number | null;
  /** Since when all that it sends is of an hour before or more, and the instant that the last of it tells of. */
  behindSinceMs: number | null;
  tellsOfMs: number | null;
  lastAtMs: number | null;
  lastValue: number | null;
  unchangedSinceMs: number | null;
  /** The smallest change seen from one value to the next: its resolution, or a few of its steps. */
  leastStep: number | null;
  /** Observed, of the newest reading that was suspect because something is wrong with the sensor. */
  lastDoubtfulMs: number | null;
  readonly gaps: number[];
  /** Median of the gaps, once somebody asked for it. */
  intervalMs: number | null | undefined;
  /** Full hours since 1970 → readings and suspects of that hour. */
  readonly hours: Map<number, HourCounts>;
}

/** What is wrong with a reading, if anything. */
export interface Flags {
  readonly suspect: boolean;
  /** Suspect because something is wrong with the sensor. */
  readonly doubtful: boolean;
  readonly wrongClock: boolean;
}

export const freshState = (): ChannelState => ({
  lastHeardMs: null,
  behindSinceMs: null,
  tellsOfMs: null,
  lastAtMs: null,
  lastValue: null,
  unchangedSinceMs: null,
  leastStep: null,
  lastDoubtfulMs: null,
  gaps: [],
  intervalMs: undefined,
  hours: new Map(),
});

/** One reading that was stored and heard at `lastHeardMs`: `value` as it came. */
export function addReading(channel: ChannelState, atMs: number, value: number, flags: Flags): void {
  countReading(channel, atMs, flags);
  followReading(channel, atMs, value, flags.suspect);
  channel.tellsOfMs = atMs;
  channel.behindSinceMs = isBehind(channel) ? (channel.behindSinceMs ?? channel.lastHeardMs) : null;
}

function countReading(channel: ChannelState, atMs: number, { doubtful, wrongClock }: Flags): void {
  const hour = Math.floor(atMs / hourMs);
  let counts = channel.hours.get(hour);
  if (!counts) {
    channel.hours.set(hour, (counts = { readings: 0, suspects: 0, wrongClocks: 0 }));
    forgetOldHours(channel, hour);
  }
  counts.readings += 1;
  if (doubtful) {
    counts.suspects += 1;
    channel.lastDoubtfulMs = Math.max(channel.lastDoubtfulMs ?? atMs, atMs);
  }
  if (wrongClock) counts.wrongClocks += 1;
}

function followReading(channel: ChannelState, atMs: number, value: number, suspect: boolean): void {
  // What comes late fills its hour, and says nothing about the present.
  if (channel.lastAtMs !== null && atMs <= channel.lastAtMs) return;
  const gapMs = channel.lastAtMs === null ? 0 : atMs - channel.lastAtMs;
  if (channel.lastAtMs !== null) learn(channel, gapMs);
  channel.lastAtMs = atMs;
  // What it did while nothing came is not known: it rests since.
  if (gapMs > Math.max(unwatchedMs, 2 * (intervalOf(channel) ?? 0))) channel.unchangedSinceMs = atMs;
  if (suspect) return;
  if (value !== channel.lastValue) {
    channel.unchangedSinceMs = atMs;
    const step = channel.lastValue === null ? Infinity : Math.abs(value - channel.lastValue);
    if (step < (channel.leastStep ?? Infinity)) channel.leastStep = step;
  }
  channel.lastValue = value;
}

function forgetOldHours({ hours }: ChannelState, newest: number): void {
  for (const hour of hours.keys()) {
    if (hours.size <= 26 && hour > newest - 26) return;
    hours.delete(hour);
  }
}

function learn(channel: ChannelState, gapMs: number): void {
  channel.gaps.push(gapMs);
  if (channel.gaps.length > keptGaps) channel.gaps.shift();
  channel.intervalMs = undefined;
}

/** The usual interval, ms; null until enough was heard. */
export function intervalOf(channel: ChannelState): number | null {
  if (channel.intervalMs === undefined) {
    const { gaps } = channel;
    const ascending = gaps.length < fewestGaps ? [] : gaps.toSorted((a, b) => a - b);
    channel.intervalMs = ascending[ascending.length >> 1] ?? null;
  }
  return channel.intervalMs;
}

function lastDayOf({ hours }: ChannelState, nowMs: number): HourCounts {
  const first = Math.floor((nowMs - dayMs) / hourMs) + 1;
  const all = { readings: 0, suspects: 0, wrongClocks: 0 };
  for (const [hour, counts] of hours) {
    if (hour < first) continue;
    all.readings += counts.readings;
    all.suspects += counts.suspects;
    all.wrongClocks += counts.wrongClocks;
  }
  return all;
}

/** A device's battery: per cent, and its trend a day. */
export interface BatteryState {
  readonly percent: number;
  readonly percentPerDay: number | null;
}

/** Method: what is heard now and was taken so long before the newest reading is of a clock that is behind, or of a store. */
const behindMs = hourMs;

/** Its messages tell the past: whether its newest value still stands is not known. */
const isBehind = ({ lastHeardMs, lastAtMs }: ChannelState): boolean =>
  lastHeardMs !== null && lastAtMs !== null && lastHeardMs - lastAtMs > behindMs;

export function healthOf(
  { id, sensor, quantity, unit }: Pick<Channel, 'id' | 'sensor' | 'quantity' | 'unit'>,
  place: ChannelHealth['place'],
  channel: ChannelState,
  battery: BatteryState | null,
  nowMs: number,
): ChannelHealth {
  const { readings, suspects, wrongClocks } = lastDayOf(channel, nowMs);
  return {
    channelId: id,
    sensor,
    quantity,
    place,
    lastHeardMs: channel.lastHeardMs,
    expectedIntervalMs: intervalOf(channel),
    lastValue: channel.lastValue,
    unchangedSinceMs: isBehind(channel) ? null : channel.unchangedSinceMs,
    // Counts of a cell that was never calibrated are no weight.
    ...(unit === 'kg' && channel.leastStep !== null && { stepG: channel.leastStep * 1000 }),
    readings24h: readings,
    suspects24h: suspects,
    wrongClocks24h: wrongClocks,
    ...(channel.behindSinceMs === null || channel.tellsOfMs === null
      ? {}
      : { behind: { sinceMs: channel.behindSinceMs, tellsOfMs: channel.tellsOfMs } }),
    batteryPercent: battery?.percent ?? null,
    batteryPercentPerDay: battery?.percentPerDay ?? null,
  };
}

export const batteryTrendDays = 14;
/** A trend is worked out once in each full hour. */
export const trendHourMs = (nowMs: number): number => Math.floor(nowMs / hourMs) * hourMs;

/** Least-squares slope of daily means, each at the beginning of its day, per cent a day; null with fewer than three days. */
export function batteryTrend(days: readonly (readonly [atMs: number, mean: number])[]): number | null {
  const [first] = days;
  if (!first || days.length < 3) return null;
  return linearRegression(days.map(([atMs, mean]) => [(atMs - first[0]) / dayMs, mean])).m;
}
