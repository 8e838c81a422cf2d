/** An alert that was told before, and is explained by one that stands now, is shown within that one. */
import { episodeOf, isOpen, type AlertState, type Episode } from '../../rules/engine/alert-state.ts';
import { alertKey } from '../../rules/engine/evaluate.ts';
import { explanations } from '../../rules/catalogue/explanations.ts';
import { causeOf, explainer } from '../../rules/engine/suppression.ts';

/** Of two that only stand for each other once told, neither is part of the other. */
const lasting = explanations.filter(({ onceRaised }) => !onceRaised);

/** Asks for the open alert that an open alert is part of; null where it stands alone. Works on the alerts of one moment. */
export function partOf(
  alerts: ReadonlyMap<string, AlertState>,
  nowMs: number,
): (alert: AlertState) => Episode | null {
  const open = [...alerts.values()].filter(isOpen);
  const explained = explainer(
    open.flatMap((alert) => causeOf(alert) ?? []),
    nowMs,
    lasting,
  );
  return (alert) => {
    const by = isOpen(alert) ? explained(alert.ruleId, alert.subject)?.by : undefined;
    const found = by && alerts.get(alertKey(by.cause, by.subject));
    return found ? episodeOf(found) : null;
  };
}
