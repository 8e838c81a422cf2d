/** How often a channel usually reports, and what its silence means. Pure. */
import type { Channel } from '../contract/sensors.ts';
import { minuteMs } from '../durations.ts';

/**
 * The usual interval between readings, ms: the median of the gaps, which neither a batch that came late nor a night
 * without the gateway moves. Null with fewer than four gaps.
 * @param atMs instants of recent readings, ascending
 */
export function usualIntervalMs(atMs: ArrayLike<number>): number | null {
  const gaps: number[] = [];
  for (let i = 1; i < atMs.length; i += 1) gaps.push((atMs[i] ?? 0) - (atMs[i - 1] ?? 0));
  if (gaps.length < 4) return null;
  gaps.sort((a, b) => a - b);
  const middle = gaps.length >> 1;
  const upper = gaps[middle] ?? 0;
  return gaps.length % 2 === 1 ? upper : ((gaps[middle - 1] ?? 0) + upper) / 2;
}

export interface Health {
  readonly health: Channel['health'];
  readonly healthText: string;
  /** Older than the channel's rhythm allows. */
  readonly stale: boolean;
}

/** Twice the interval is late, four times is silent (as the rule has it); never sooner than after 10 and 45 minutes. */
const lateAfterMs = (intervalMs: number): number => Math.max(10 * minuteMs, 2 * intervalMs);
const silentAfterMs = (intervalMs: number): number => Math.max(45 * minuteMs, 4 * intervalMs);
/** A channel whose rhythm is not known yet counts as silent after a day, its value as stale after an hour. */
const unknownSilentMs = 24 * 60 * minuteMs;
const unknownStaleMs = 60 * minuteMs;

export function inWords(ms: number): string {
  const minutes = Math.round(ms / minuteMs);
  if (minutes < 1) return `${String(Math.max(1, Math.round(ms / 1000)))} s`;
  if (minutes < 120) return `${String(minutes)} min`;
  const hours = Math.round(minutes / 60);
  return hours < 48 ? `${String(hours)} h` : `${String(Math.round(hours / 24))} days`;
}

export function healthOf(latestAtMs: number | null, intervalMs: number | null, nowMs: number): Health {
  if (latestAtMs === null) return { health: 'new', healthText: 'nothing heard yet', stale: false };
  const age = nowMs - latestAtMs;
  if (intervalMs === null) {
    if (age > unknownSilentMs)
      return { health: 'silent', healthText: `not heard for ${inWords(age)}`, stale: true };
    return { health: 'new', healthText: 'how often it sends is not known yet', stale: age > unknownStaleMs };
  }
  const usual = `usually every ${inWords(intervalMs)}`;
  if (age > silentAfterMs(intervalMs)) {
    return { health: 'silent', healthText: `not heard for ${inWords(age)}, ${usual}`, stale: true };
  }
  if (age > lateAfterMs(intervalMs)) {
    return { health: 'late', healthText: `late: ${inWords(age)} since the last, ${usual}`, stale: true };
  }
  return { health: 'fresh', healthText: `heard ${usual.replace('usually ', '')}`, stale: false };
}
