import type { NucSummary } from '../../server/contract/nucs.ts';

const most = 8;

/** Alerts first, then what is overdue or due, then the rest; the first few. */
export function nucsNeedingAttention(items: readonly NucSummary[]): readonly NucSummary[] {
  const rank = (one: NucSummary): number => {
    if (one.alerts.some((alert) => alert.urgency === 'now')) return 0;
    if (one.alerts.length > 0) return 1;
    const state = one.nextStep?.state;
    return state === 'overdue' ? 2 : state === 'due' ? 3 : 4;
  };
  return items
    .map((one) => ({ one, by: rank(one) }))
    .filter(({ by }) => by < 4)
    .sort((a, b) => a.by - b.by)
    .slice(0, most)
    .map(({ one }) => one);
}
