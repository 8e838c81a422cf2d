/**
 * Real hive temperature series, read where they lie. They are never part of the project; where the folder is
 * absent the checks on them are skipped. Sources: Arias-Calluari et al., "Assessing Honey Bee Colony Health Using
 * Temperature Time Series" (Sydney); the Montreal set of 2021 with its dated inspections.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Temporal } from 'temporal-polyfill';
import type { KnownEvent, Series, SitePlace } from '../../server/signals/types.ts';

const folder = process.env['WELCOMB_OPEN_DATA'] ?? join('..', 'shared', 'data');
export const openData = existsSync(folder);

export interface RealHive {
  readonly name: string;
  readonly place: SitePlace;
  readonly broodC: Series;
  readonly outsideC?: Series;
  readonly visits: readonly KnownEvent[];
}

const sydney: SitePlace = { latDeg: -33.87, lonDeg: 151.21, timeZone: 'Australia/Sydney' };
const montreal: SitePlace = { latDeg: 45.5, lonDeg: -73.57, timeZone: 'America/Toronto' };

const rowsOf = (path: string): string[][] =>
  readFileSync(join(folder, path), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.trim().split(','));

/** Strictly ascending, first of two with the same time kept. */
function seriesOf(points: readonly (readonly [number, number])[]): Series {
  const ascending = points.filter(([, value]) => Number.isFinite(value)).toSorted((a, b) => a[0] - b[0]);
  const unique = ascending.filter(([at], i) => i === 0 || at !== ascending[i - 1]?.[0]);
  return {
    atMs: Float64Array.from(unique, ([at]) => at),
    value: Float64Array.from(unique, ([, value]) => value),
  };
}

const localMs = (text: string, timeZone: string): number =>
  Temporal.PlainDateTime.from(text.replace(' ', 'T')).toZonedDateTime(timeZone).epochMilliseconds;

/** In these files 0 stands for a missing value. */
export function sydneyHive(name: string): RealHive {
  const rows = rowsOf(`sydney-temp/${name}.csv`).map(
    ([time = '', outside = '', hive = '']) =>
      [localMs(time, sydney.timeZone), Number(outside), Number(hive)] as const,
  );
  const column = (i: 1 | 2) => seriesOf(rows.filter((row) => row[i] !== 0).map((row) => [row[0], row[i]]));
  return { name, place: sydney, broodC: column(2), outsideC: column(1), visits: [] };
}

export function montrealHive(name: string): RealHive {
  const rows = rowsOf(`montreal/montreal-${name}.csv`);
  const broodC = seriesOf(
    rows.map(([time = '', hive = '']) => [Date.parse(time), hive === '' ? NaN : Number(hive)]),
  );
  const visits = rowsOf('montreal/inspections_2021.csv')
    .filter((row) => row[1] === name && row[9] !== '')
    .map((row): KnownEvent => {
      const atMs = localMs(`${row[0] ?? ''}T${row[9] ?? ''}`, montreal.timeZone);
      return { atMs, kind: 'visit' };
    });
  const weather = rowsOf('montreal/weather_2021_2022.csv').map(
    // Local standard time all year: five hours behind UTC.
    ([time = '', temperature = '']) =>
      [
        Date.parse(`${time.replace(' ', 'T')}-05:00`),
        temperature === '' ? NaN : Number(temperature),
      ] as const,
  );
  return { name, place: montreal, broodC, outsideC: seriesOf(weather), visits };
}

export const sydneyNames = ['2016-A', '2020-A', '2020-B', '2020-E', '2020-K'] as const;
export const montrealNames = ['3627', '3629', '3690', '3691'] as const;
