import type { LiveEvent } from '../../server/contract/alerts.ts';
import type { NucSummary } from '../../server/contract/nucs.ts';

type ReadingEvent = Extract<LiveEvent, { type: 'reading' }>;
type Latest = NonNullable<NucSummary['latest']['brood']>;

/** The summary with this reading as the newest of its place; the same object where it has none there. */
export function withReading<T extends Pick<NucSummary, 'hive' | 'latest'>>(one: T, event: ReadingEvent): T {
  const place = event.place as keyof NucSummary['latest'] | undefined;
  const mine =
    event.hiveId === one.hive.id || (event.hiveId === undefined && event.siteId === one.hive.siteId);
  if (!mine || place === undefined) return one;
  const before = one.latest[place];
  if (before === undefined || (before && Date.parse(before.time) > Date.parse(event.time))) return one;
  return { ...one, latest: { ...one.latest, [place]: newestOf(event) } };
}

/** As the lists have it, which leave out what is believed. */
export const newestOf = ({ value, unit, time, suspect = false, impossible }: ReadingEvent): Latest => ({
  value,
  unit,
  time,
  stale: false,
  suspect,
  ...(impossible && { impossible }),
});
