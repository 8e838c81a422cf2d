import type { LiveEvent } from '../../server/contract/alerts.ts';
import type { NucSummary } from '../../server/contract/nucs.ts';

/** The summary with this reading as the newest of its place; the same object where it has none there. */
export function withReading<T extends Pick<NucSummary, 'hive' | 'latest'>>(
  one: T,
  event: Extract<LiveEvent, { type: 'reading' }>,
): T {
  const place = event.place as keyof NucSummary['latest'] | undefined;
  const mine =
    event.hiveId === one.hive.id || (event.hiveId === undefined && event.siteId === one.hive.siteId);
  if (!mine || place === undefined) return one;
  const { value, unit, time } = event;
  const before = one.latest[place];
  if (before === undefined || (before && Date.parse(before.time) > Date.parse(time))) return one;
  return { ...one, latest: { ...one.latest, [place]: { value, unit, time, stale: false, suspect: false } } };
}
