/** The night that was foreseen at an instant, by the forecasts that were known by then. */
import type { Forecast } from '../signals/types.ts';
import type { Forecasts, KeptForecast } from '../store/forecasts.ts';
import type { Site } from '../store/places/sites.ts';
import { nightOf, staleMs } from './hours.ts';

export type ForecastStore = Pick<Forecasts, 'at' | 'keep'>;

export const isBelieved = ({ saidAtMs }: KeptForecast, atMs: number): boolean => atMs - saidAtMs <= staleMs;

/** Of an address and of topics, for the site and for all. */
const knownOf = (forecasts: Pick<ForecastStore, 'at'>, site: Site, atMs: number): KeptForecast[] =>
  [
    forecasts.at('address', site.id, atMs),
    forecasts.at('topic', site.id, atMs),
    forecasts.at('topic', null, atMs),
  ].filter((one) => one !== undefined);

/** The night by the newest that reaches to its end. */
export function knownNight(
  forecasts: Pick<ForecastStore, 'at'>,
  site: Site,
  atMs: number,
): Forecast | undefined {
  const known = knownOf(forecasts, site, atMs);
  const byAge = known.filter((one) => isBelieved(one, atMs)).toSorted((a, b) => b.saidAtMs - a.saidAtMs);
  for (const { hours, source, saidAtMs } of byAge) {
    const night = nightOf(hours, site, atMs, source);
    if (night) return { ...night, saidAtMs };
  }
  return undefined;
}

/** The same at many instants up to `untilMs`; where nothing was known by then nothing is asked for. */
export function knownNights(
  forecasts: Pick<ForecastStore, 'at'>,
  site: Site,
  untilMs: number,
): (atMs: number) => Forecast | undefined {
  const isForetold = knownOf(forecasts, site, untilMs).length > 0;
  return (atMs) => (isForetold ? knownNight(forecasts, site, atMs) : undefined);
}
