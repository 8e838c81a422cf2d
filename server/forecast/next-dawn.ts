/** The next sunrise at a site: the end of the night under way or ahead. */
import { addDays, isoDate } from '../introduction/calendar.ts';
import { sunDay } from '../signals/sun.ts';
import type { SitePlace } from '../signals/types.ts';

export function endOfNight(place: SitePlace, nowMs: number): number {
  for (const days of [0, 1]) {
    const { sunriseMs } = sunDay(place, isoDate(addDays(nowMs, days, place.timeZone), place.timeZone));
    if (sunriseMs !== null && sunriseMs > nowMs) return sunriseMs;
  }
  // Beyond the polar circles the sun may not rise: a morning hour will do.
  return addDays(nowMs, 1, place.timeZone);
}
