import type { AlertDto } from '../../server/contract/alerts.ts';

/** That a visit is due or overdue: the plan's own lines say it. */
export const isAboutTheLog = ({ ruleId }: Pick<AlertDto, 'ruleId'>): boolean =>
  ruleId === 'visit-due' || ruleId === 'visit-overdue';

/** Without those that became part of another alert of the list: they are shown within it. */
export function topLevelAlerts(alerts: readonly AlertDto[]): AlertDto[] {
  const ids = new Set(alerts.map(({ id }) => id));
  return alerts.filter(
    ({ id, explainedBy }) => explainedBy === null || explainedBy === id || !ids.has(explainedBy),
  );
}
