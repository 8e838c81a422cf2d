/** When the next alert changes by the passing of time alone, and how closely a running hold must be looked at. */
import { livePhase } from './alert-state.ts';
import type { Evaluated } from './evaluate.ts';

/** What holds for twelve hours does not come and go within one. */
const looksInHold = 12;

/** The longest time between looks that a flicker can't hide in, for the shortest hold that is running; infinity where none is. */
export function flickerMs({ evaluations, alerts }: Evaluated): number {
  const holds = evaluations.map(({ key, holdMs, clearHoldMs }) => {
    const alert = alerts.get(key);
    const phase = alert && livePhase(alert).phase;
    return phase === 'holding' ? holdMs : phase === 'clearing' ? clearHoldMs : Infinity;
  });
  return Math.min(...holds) / looksInHold;
}

/** The rules of which a hold is running. */
export const holdingRules = ({ evaluations, alerts }: Evaluated): string[] =>
  evaluations
    .filter(({ key }) => {
      const alert = alerts.get(key);
      return alert !== undefined && ['holding', 'clearing'].includes(livePhase(alert).phase);
    })
    .map(({ ruleId }) => ruleId);

/** The earliest end of a running hold after `nowMs`, or of what explains a finding, if what was found goes on; infinity where nothing is running. */
export function nextHoldEndMs({ evaluations, alerts }: Evaluated, nowMs: number): number {
  let endMs = Infinity;
  for (const { key, holdMs, clearHoldMs, quietUntilMs } of evaluations) {
    // Up to and with that instant it is explained.
    if (quietUntilMs !== undefined) endMs = Math.min(endMs, quietUntilMs + 1);
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
