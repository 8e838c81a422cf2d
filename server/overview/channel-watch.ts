/**
 * How each channel is doing, kept up reading by reading, so that a look costs the same after a day and after years.
 * Seeded from the store when a channel is first asked about, so a restart forgets nothing.
 */
import { linearRegression } from 'simple-statistics';
import type { ChannelHealth } from '../rules/inputs.ts';
import type { StoredReading } from '../store/port.ts';
import { isDoubtful } from '../store/readings/day-readings.ts';
import type { Channel } from '../store/channels.ts';
import type { Store } from '../store/store.ts';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
/** Gaps from which the usual interval is learnt: a late batch or a night's silence can't move their median. */
const keptGaps = 41;
const fewestGaps = 4;

interface Tracked {
  lastHeardMs: number | null;
  lastAtMs: number | null;
  lastValue: number | null;
  unchangedSinceMs: number | null;
  gaps: number[];
  intervalMs: number | null;
  /** Full hours since 1970 → readings and suspects of that hour. */
  hours: Map<number, { readings: number; suspects: number }>;
}

export interface ChannelWatch {
  /** Readings that were just stored. */
  note(stored: readonly StoredReading[], nowMs: number): void;
  health(channel: Channel, place: ChannelHealth['place'], nowMs: number): ChannelHealth;
}

export function watchChannels(store: Store): ChannelWatch {
  const tracked = new Map<number, Tracked>();
  const batteries = new Map<string, { readonly atMs: number; readonly percentPerDay: number | null }>();

  function of(channelId: number, nowMs: number): Tracked {
    let found = tracked.get(channelId);
    if (!found) tracked.set(channelId, (found = seeded(store, channelId, nowMs)));
    return found;
  }

  return {
    note(stored, nowMs) {
      for (const { channelId, observedAtMs, value, suspect, uncalibrated = false } of stored) {
        const known = tracked.get(channelId);
        if (!known) continue;
        known.lastHeardMs = nowMs;
        add(known, { atMs: observedAtMs, value, suspect, doubtful: suspect && !uncalibrated });
      }
    },
    health(channel, place, nowMs) {
      const known = of(channel.id, nowMs);
      const { readings, suspects } = lastDay(known, nowMs);
      const battery = batteryOf(store, channel, batteries, nowMs);
      return {
        channelId: channel.id,
        sensor: channel.sensor,
        quantity: channel.quantity,
        place,
        lastHeardMs: known.lastHeardMs,
        expectedIntervalMs: known.intervalMs,
        lastValue: known.lastValue,
        unchangedSinceMs: known.unchangedSinceMs,
        readings24h: readings,
        suspects24h: suspects,
        batteryPercent: battery?.percent ?? null,
        batteryPercentPerDay: battery?.percentPerDay ?? null,
      };
    },
  };
}

function seeded(store: Store, channelId: number, nowMs: number): Tracked {
  const fresh: Tracked = {
    lastHeardMs: null,
    lastAtMs: null,
    lastValue: null,
    unchangedSinceMs: null,
    gaps: [],
    intervalMs: null,
    hours: new Map(),
  };
  const latest = store.channels.get(channelId)?.latest;
  if (!latest) return fresh;
  // A channel that fell silent is seeded from its own last day, or its rhythm would be unknown after a restart.
  const toMs = latest.atMs + 1;
  const span = store.readings.query({
    channelId,
    fromMs: toMs - dayMs,
    toMs,
    resolution: 'raw',
    includeSuspect: true,
    calibrated: false,
  });
  for (const [i, atMs] of span.atMs.entries()) {
    const flag = span.suspect[i] ?? 0;
    add(fresh, { atMs, value: span.value[i] ?? 0, suspect: flag !== 0, doubtful: isDoubtful(flag) });
  }
  fresh.lastHeardMs = Math.min(latest.atMs, nowMs);
  return fresh;
}

interface Noted {
  readonly atMs: number;
  readonly value: number;
  readonly suspect: boolean;
  /** Suspect because something is wrong with the sensor. */
  readonly doubtful: boolean;
}

function add(channel: Tracked, { atMs, value, suspect, doubtful }: Noted): void {
  const hour = Math.floor(atMs / hourMs);
  const counts = channel.hours.get(hour) ?? { readings: 0, suspects: 0 };
  counts.readings += 1;
  if (doubtful) counts.suspects += 1;
  channel.hours.set(hour, counts);
  forgetOldHours(channel, hour);
  // What comes late fills its hour, and says nothing about the present.
  if (channel.lastAtMs !== null && atMs <= channel.lastAtMs) return;
  if (channel.lastAtMs !== null) learn(channel, atMs - channel.lastAtMs);
  channel.lastAtMs = atMs;
  if (suspect) return;
  if (value !== channel.lastValue) channel.unchangedSinceMs = atMs;
  channel.lastValue = value;
}

function forgetOldHours({ hours }: Tracked, newest: number): void {
  for (const hour of hours.keys()) {
    if (hours.size <= 26 && hour > newest - 26) return;
    hours.delete(hour);
  }
}

function learn(channel: Tracked, gapMs: number): void {
  channel.gaps.push(gapMs);
  if (channel.gaps.length > keptGaps) channel.gaps.shift();
  if (channel.gaps.length < fewestGaps) return;
  const ascending = channel.gaps.toSorted((a, b) => a - b);
  channel.intervalMs = ascending[ascending.length >> 1] ?? null;
}

function lastDay({ hours }: Tracked, nowMs: number): { readings: number; suspects: number } {
  const first = Math.floor((nowMs - dayMs) / hourMs) + 1;
  let readings = 0;
  let suspects = 0;
  for (const [hour, counts] of hours) {
    if (hour < first) continue;
    readings += counts.readings;
    suspects += counts.suspects;
  }
  return { readings, suspects };
}

const batteryTrendDays = 14;

/** The device's own battery channel in per cent; its trend is worked out once an hour. */
function batteryOf(
  store: Store,
  { sensor }: Channel,
  trends: Map<string, { readonly atMs: number; readonly percentPerDay: number | null }>,
  nowMs: number,
): { percent: number; percentPerDay: number | null } | null {
  const channel = store.channels.find({ sensor, quantity: 'battery', probe: '', unit: '%EL' });
  if (!channel?.latest) return null;
  let trend = trends.get(sensor);
  if (!trend || nowMs - trend.atMs > hourMs) {
    trend = { atMs: nowMs, percentPerDay: batteryTrend(store, channel.id, nowMs) };
    trends.set(sensor, trend);
  }
  return { percent: channel.latest.value, percentPerDay: trend.percentPerDay };
}

/** Least-squares slope of the daily means; null with fewer than three days. */
function batteryTrend(store: Store, channelId: number, nowMs: number): number | null {
  const days = store.readings.query({
    channelId,
    fromMs: nowMs - batteryTrendDays * dayMs,
    toMs: nowMs,
    resolution: 'day',
  });
  if (days.atMs.length < 3) return null;
  return linearRegression(Array.from(days.atMs, (at, i) => [(at - nowMs) / dayMs, days.mean[i] ?? 0])).m;
}
