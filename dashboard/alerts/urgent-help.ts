/** What the nucs in trouble at each site need, for the list of things to bring. Pure. */
import type { AlertDto } from '../../server/contract/alerts.ts';
import { isAboutTheLog, topLevelAlerts } from './top-level-alerts.ts';

export interface UrgentHelp {
  readonly siteId: string;
  readonly siteName: string;
  readonly bring: readonly string[];
  /** Of the nucs that it is for. */
  readonly names: readonly string[];
}

const open: ReadonlySet<AlertDto['phase']> = new Set(['raised', 'no-data', 'clearing']);

export function urgentHelp(alerts: readonly AlertDto[]): readonly UrgentHelp[] {
  const sites = new Map<string, AlertDto[]>();
  for (const alert of topLevelAlerts(alerts)) {
    const { siteId, urgency, phase, bring } = alert;
    if (siteId === undefined || bring.length === 0 || urgency === 'next-visit') continue;
    if (open.has(phase) && !isAboutTheLog(alert)) sites.set(siteId, [...(sites.get(siteId) ?? []), alert]);
  }
  return [...sites].map(([siteId, those]) => ({
    siteId,
    siteName: those[0]?.siteName ?? '',
    bring: [...new Set(those.flatMap(({ bring }) => bring))],
    names: [...new Set(those.map(({ subject }) => subject.name))],
  }));
}
