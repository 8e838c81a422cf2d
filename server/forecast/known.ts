/** The night and the day that were foreseen at an instant, by the forecasts that were known by then. */
import type { Forecast } from '../signals/types.ts';
import type { Forecasts, KeptForecast } from '../store/forecasts.ts';
import type { Site } from '../store/places/sites.ts';
import { nightOf, staleMs, warmestOf } from './hours.ts';

export type ForecastStore = Pick<Forecasts, 'at' | 'keep'>;

export const isBelieved = ({ saidAtMs }: KeptForecast, atMs: number): boolean => atMs - saidAtMs <= staleMs;

/** Of an address and of topics, for the site and for all. */
const knownOf = (forecasts: Pick<ForecastStore, 'at'>, site: Site, atMs: number): KeptForecast[] =>
  [
    forecasts.at('address', site.id, atMs),
    forecasts.at('topic', site.id, atMs),
    forecasts.at('topic', null, atMs),
  ].filter((one) => one !== undefined);

/** Those that are believed, the newest first. */
const believed = (forecasts: Pick<ForecastStore, 'at'>, site: Site, atMs: number): KeptForecast[] =>
  knownOf(forecasts, site, atMs)
    .filter((one) => isBelieved(one, atMs))
    .toSorted((a, b) => b.saidAtMs - a.saidAtMs);

/** The night by the newest that reaches to its end. */
export function knownNight(
  forecasts: Pick<ForecastStore, 'at'>,
  site: Site,
  atMs: number,
): Forecast | undefined {
  for (const { hours, source, saidAtMs } of believed(forecasts, site, atMs)) {
    const night = nightOf(hours, site, atMs, source);
    if (night) return { ...night, saidAtMs };
  }
  return undefined;
}

/** The warmest hour of a date, °C, by the newest that reaches it. */
export function knownWarmest(
  forecasts: Pick<ForecastStore, 'at'>,
  site: Site,
  date: string,
  atMs: number,
): number | undefined {
  for (const { hours } of believed(forecasts, site, atMs)) {
    const warmestC = warmestOf(hours, site, date);
    if (warmestC !== undefined) return warmestC;
  }
  return undefined;
}

/** The nights at many instants up to `untilMs`; where nothing was known by then nothing is asked for. */
export function knownNights(
  forecasts: Pick<ForecastStore, 'at'>,
  site: Site,
  untilMs: number,
): (atMs: number) => Forecast | undefined {
  const isForetold = knownOf(forecasts, site, untilMs).length > 0;
  return (atMs) => (isForetold ? knownNight(forecasts, site, atMs) : undefined);
}
