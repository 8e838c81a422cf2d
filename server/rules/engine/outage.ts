/** A time in which the server was down: no rule was evaluated, so that it counts towards no hold and no clear time. */
import type { AlertState } from './alert-state.ts';
import type { Alerts } from './evaluate.ts';

/** How long no rule was evaluated, ms: a gap between two ticks that is longer than two of them, less the one that was due. */
export const unobservedBetween = (lastTickMs: number | null, nowMs: number, tickMs: number): number =>
  lastTickMs === null || nowMs - lastTickMs <= 2 * tickMs ? 0 : nowMs - lastTickMs - tickMs;

/** The alert as it goes on after the outage; the very same one where nothing was running. A gap in the data counts itself. */
export function afterOutage(alert: AlertState, unobservedMs: number): AlertState {
  const { at } = alert;
  if (unobservedMs === 0 || (at.phase !== 'holding' && at.phase !== 'clearing')) return alert;
  return { ...alert, at: { ...at, unobservedMs: at.unobservedMs + unobservedMs } };
}

/** All of them, and those that changed. */
export function allAfterOutage(
  alerts: Alerts,
  unobservedMs: number,
): { readonly alerts: Alerts; readonly changed: readonly AlertState[] } {
  const after = [...alerts.values()].map((alert) => afterOutage(alert, unobservedMs));
  return {
    alerts: new Map(after.map((alert) => [alert.key, alert])),
    changed: after.filter((alert) => alert !== alerts.get(alert.key)),
  };
}
