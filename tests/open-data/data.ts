/**
 * Open series of published studies, from a folder beside the checkout that is no part of it; each has its licence and
 * reference in a NOTICE there. Where the folder is absent the checks say so and pass over.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { Temporal } from 'temporal-polyfill';
import { seriesOf } from '../../server/signals/series.ts';
import type { KnownEvent, Series } from '../../server/signals/types.ts';

const folder =
  process.env['OPEN_DATA_FOLDER'] ?? join(import.meta.dirname, '..', '..', '..', 'shared', 'data');
export const present = existsSync(folder);
if (!present) console.log(`open data: ${folder} is absent, so the checks on it are passed over`);

const rows = (path: string): string[][] =>
  parse(readFileSync(join(folder, path), 'utf8'), { relax_quotes: true });

const local = (text: string, timeZone: string): number =>
  Temporal.PlainDateTime.from(text.trim().replace(' ', 'T')).toZonedDateTime(timeZone).epochMilliseconds;

export const sydney = { latDeg: -33.9, lonDeg: 151.2, timeZone: 'Australia/Sydney' };
export const montrealPlace = { latDeg: 45.5, lonDeg: -73.6, timeZone: 'America/Toronto' };

/** Grams every minute of 7 April 2018. */
export function sydneyWeight(hive: number): Series {
  const midnight = local('2018-04-07 00:00', sydney.timeZone);
  return seriesOf(
    rows(`sydney-weight/Hive_${String(hive)}.csv`).map(([minute, kg]) => ({
      atMs: midnight + Number(minute) * 60_000,
      value: Number(kg) * 1000,
    })),
  );
}

/** Hive and outside temperature; 0 means missing. */
export function sydneyTemperature(name: string): { hive: Series; outside: Series } {
  const table = rows(`sydney-temp/${name}.csv`).slice(1);
  const column = (k: number): Series =>
    seriesOf(
      table
        .map((row) => ({ atMs: local(row[0] as string, sydney.timeZone), value: Number(row[k]) }))
        .filter((reading) => reading.value !== 0),
    );
  return { hive: column(2), outside: column(1) };
}

export interface MontrealHive {
  readonly hive: Series;
  readonly outside: Series;
  readonly inspections: KnownEvent[];
}

/** Brood temperature in UTC, weather in local standard time (UTC−5), inspections in local time. */
export function montreal(tag: number): MontrealHive {
  const hive = seriesOf(
    rows(`montreal/montreal-${String(tag)}.csv`)
      .slice(1)
      .map(([at, tempC]) => ({ atMs: Date.parse(at as string), value: Number(tempC) })),
  );
  const outside = seriesOf(
    rows('montreal/weather_2021_2022.csv')
      .slice(1)
      .filter(([at, tempC]) => (at as string) < '2021-11-02' && tempC !== '')
      .map(([at, tempC]) => ({
        atMs: Date.parse(`${(at as string).replace(' ', 'T')}-05:00`),
        value: Number(tempC),
      })),
  );
  const inspections = rows('montreal/inspections_2021.csv')
    .slice(1)
    .filter((row) => row[1] === String(tag))
    .map((row): KnownEvent => ({
      atMs: local(`${String(row[0])} ${String(row[9])}`, montrealPlace.timeZone),
      kind: 'visit',
    }));
  return { hive, outside, inspections };
}
