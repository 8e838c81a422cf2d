/** When the next alert changes by the passing of time alone. */
import { livePhase } from './alert-state.ts';
import type { Evaluated } from './evaluate.ts';

/** The earliest end of a running hold after `nowMs`, if what was found goes on; infinity where nothing is running. */
export function nextHoldEndMs({ evaluations, alerts }: Evaluated, nowMs: number): number {
  let endMs = Infinity;
  for (const { key, holdMs, clearHoldMs } of evaluations) {
    const alert = alerts.get(key);
    if (!alert) continue;
    const live = livePhase(alert);
    const at =
      live.phase === 'holding'
        ? live.sinceMs + live.awayMs + holdMs
        : live.phase === 'clearing'
          ? live.clearSinceMs + live.awayMs + clearHoldMs
          : Infinity;
    if (at > nowMs) endMs = Math.min(endMs, at);
  }
  return endMs;
}
