/** The calendar of everything that is planned, for phones that subscribe to it. */
import { calendarFeed } from '../introduction/calendar-feed.ts';
import type { NucAnalysis } from './nuc-analysis.ts';

export interface CalendarOptions {
  readonly farmName: string;
  readonly timeZone: string;
  readonly nowMs: number;
  readonly unavailable: readonly string[];
}

/**
 * An event's revision grows with the log it comes from, and with every change of a day on which nobody can come; so a
 * phone that has an older one moves it.
 */
export function calendarText(analyses: readonly NucAnalysis[], options: CalendarOptions): string {
  const { farmName, timeZone, nowMs, unavailable } = options;
  const steps = analyses.flatMap(({ plan, nuc, site, log }) =>
    plan.map((step) => ({
      step,
      nucName: nuc.name,
      siteName: site.name,
      revision: log.length + unavailable.length,
    })),
  );
  const name = farmName === '' ? 'Nucs' : farmName;
  return calendarFeed(steps, { name, timeZone, nowMs, uidDomain: 'welcomb.local' });
}
