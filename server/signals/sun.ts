/** Sun at the site: dawn and dusk of a local date, and how high it stands. */
import { getPosition, getTimes } from 'suncalc';
import { Temporal } from 'temporal-polyfill';
import type { SitePlace } from './types.ts';

export interface SunDay {
  /** Start of civil dawn, sunrise, sunset and end of civil dusk; null where the sun does not pass that height. */
  readonly dawnMs: number | null;
  readonly sunriseMs: number | null;
  readonly sunsetMs: number | null;
  readonly duskMs: number | null;
  readonly noonMs: number;
}

/** By place and date: all nucs of a site ask for the same. */
const known = new Map<string, SunDay>();
/** Setting: days kept. */
const mostKnown = 5000;

/** Sun times of the local calendar date `date` (YYYY-MM-DD) at a place. */
export function sunDay(place: SitePlace, date: string): SunDay {
  const key = `${String(place.latDeg)} ${String(place.lonDeg)} ${place.timeZone} ${date}`;
  let day = known.get(key);
  if (!day) {
    if (known.size >= mostKnown) known.clear();
    known.set(key, (day = sunOf(place, date)));
  }
  return day;
}

function sunOf(place: SitePlace, date: string): SunDay {
  const noon = Temporal.PlainDate.from(date).toZonedDateTime({
    timeZone: place.timeZone,
    plainTime: '12:00',
  });
  const times = getTimes(new Date(noon.epochMilliseconds), place.latDeg, place.lonDeg);
  const ms = (time: Date | null | undefined): number | null =>
    time && Number.isFinite(time.getTime()) ? time.getTime() : null;
  return {
    dawnMs: ms(times.dawn),
    sunriseMs: ms(times.sunrise),
    sunsetMs: ms(times.sunset),
    duskMs: ms(times.dusk),
    noonMs: times.solarNoon.getTime(),
  };
}

/** Height of the sun over the horizon, degrees, refraction included. */
export const sunHeightDeg = (place: SitePlace, atMs: number): number =>
  getPosition(new Date(atMs), place.latDeg, place.lonDeg).altitude;
