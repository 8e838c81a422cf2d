/**
 * How each channel is doing, kept up with every reading that is stored. Seeded from the store when a channel is first
 * asked about, so a restart forgets nothing.
 */
import type { ChannelHealth } from '../rules/engine/inputs.ts';
import type { StoredReading } from '../store/port.ts';
import { dayMs } from '../durations.ts';
import { flagsOf } from './reading-flags.ts';
import type { Channel } from '../store/channels/channels.ts';
import type { Store } from '../store/store.ts';
import {
  addReading,
  batteryTrend,
  batteryTrendDays,
  freshState,
  healthOf,
  trendHourMs,
  type BatteryState,
  type ChannelState,
} from './channel-state.ts';

export interface ChannelWatch {
  /** Readings that were just stored. */
  note(stored: readonly StoredReading[], nowMs: number): void;
  health(channel: Channel, place: ChannelHealth['place'], nowMs: number): ChannelHealth;
}

export function watchChannels(store: Store): ChannelWatch {
  const tracked = new Map<number, ChannelState>();
  const outside = new Map<number, OutsideDays>();
  const batteries = new Map<string, { readonly atMs: number; readonly percentPerDay: number | null }>();

  function of(channelId: number, nowMs: number): ChannelState {
    let found = tracked.get(channelId);
    if (!found) tracked.set(channelId, (found = seeded(store, channelId, nowMs)));
    return found;
  }

  return {
    note(stored, nowMs) {
      for (const { channelId, observedAtMs, value, suspect, uncalibrated, wrongClock = false } of stored) {
        const known = tracked.get(channelId);
        if (!known) continue;
        known.lastHeardMs = nowMs;
        addReading(known, observedAtMs, value, { suspect, doubtful: suspect && !uncalibrated, wrongClock });
      }
    },
    health(channel, place, nowMs) {
      const battery = batteryOf(store, channel, batteries, nowMs);
      const health = healthOf(channel, place, of(channel.id, nowMs), battery, nowMs);
      if (place !== 'outside' || channel.quantity !== 'temperature') return health;
      const outsideDays = outsideDaysOf(store, channel.id, outside, nowMs);
      return outsideDays ? { ...health, outsideDays } : health;
    },
  };
}

/** Method: a coarse scale that rested for a day may have rested for days before it. */
const restingDays = 7;

function seeded(store: Store, channelId: number, nowMs: number): ChannelState {
  const channel = store.channels.get(channelId);
  const fresh = seededFrom(store, channel, 1, nowMs);
  return channel?.quantity === 'weight' && channel.latest && fresh.leastStep === null
    ? seededFrom(store, channel, restingDays, nowMs)
    : fresh;
}

function seededFrom(store: Store, channel: Channel | undefined, days: number, nowMs: number): ChannelState {
  const fresh = freshState();
  if (!channel?.latest) return fresh;
  const { id: channelId, latest } = channel;
  // A channel that fell silent is seeded from its own last day, or its rhythm would be unknown after a restart.
  const toMs = latest.atMs + 1;
  const span = store.readings.query({
    channelId,
    fromMs: toMs - days * dayMs,
    toMs,
    resolution: 'raw',
    includeSuspect: true,
    calibrated: false,
  });
  for (const [i, atMs] of span.atMs.entries()) {
    const flag = span.suspect[i] ?? 0;
    addReading(fresh, atMs, span.value[i] ?? 0, flagsOf(flag));
  }
  fresh.lastHeardMs = Math.min(latest.atMs, nowMs);
  return fresh;
}

/** The device's own battery channel in per cent. */
function batteryOf(
  store: Store,
  { sensor }: Channel,
  trends: Map<string, { readonly atMs: number; readonly percentPerDay: number | null }>,
  nowMs: number,
): BatteryState | null {
  const channel = store.channels.find({ sensor, quantity: 'battery', probe: '', unit: '%EL' });
  if (!channel?.latest) return null;
  const atMs = trendHourMs(nowMs);
  let trend = trends.get(sensor);
  if (trend?.atMs !== atMs) {
    trend = { atMs, percentPerDay: trendOf(store, channel.id, atMs) };
    trends.set(sensor, trend);
  }
  return { percent: channel.latest.value, percentPerDay: trend.percentPerDay };
}

function trendOf(store: Store, channelId: number, toMs: number): number | null {
  const fromMs = toMs - batteryTrendDays * dayMs;
  const days = store.readings.query({ channelId, fromMs, toMs, resolution: 'day' });
  return batteryTrend(Array.from(days.atMs, (atMs, i) => [atMs, days.mean[i] ?? 0] as const));
}

/** Days of an outside probe as of a full hour. */
interface OutsideDays {
  readonly atMs: number;
  readonly days: ChannelHealth['outsideDays'];
}

const fullDays = 5;
/** Method: a day with fewer readings was not read. */
const leastOfDay = 12;

function outsideDaysOf(
  store: Store,
  channelId: number,
  known: Map<number, OutsideDays>,
  nowMs: number,
): ChannelHealth['outsideDays'] {
  const atMs = trendHourMs(nowMs);
  const before = known.get(channelId);
  if (before?.atMs === atMs) return before.days;
  const fromMs = Math.floor(nowMs / dayMs - fullDays) * dayMs;
  const read = store.readings.query({ channelId, fromMs, toMs: nowMs, resolution: 'day' });
  const isFull = (i: number): boolean =>
    read.atMs[i] === fromMs + i * dayMs && (read.count[i] ?? 0) >= leastOfDay;
  const days = Array.from({ length: fullDays }, (_, i) => i).every(isFull)
    ? Array.from(read.min, (lowC, i) => ({ lowC, highC: read.max[i] as number }))
    : undefined;
  known.set(channelId, { atMs, days });
  return days;
}
