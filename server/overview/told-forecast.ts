/**
 * A weather forecast that somebody publishes over MQTT, for a home that has one already: on `welcomb/$forecast` for every
 * site, or on `welcomb/$forecast/<site>`, by the site's name or id, for one. The payload is what an address would answer
 * (see `forecast.ts`), or `{"issued": "2026-05-12T18:00:00Z", "hours": [ … ]}`. Published retained it is there after a
 * restart of the broker's or of ours; how old it then is only `issued` tells, or else the first of its hours.
 */
import type { Forecast } from '../signals/types.ts';
import type { Site } from '../store/places/sites.ts';
import { nightOf, readHours, staleMs, type ForecastState, type Hour } from './forecast-hours.ts';

export interface ForecastMessage {
  readonly topic: string;
  /** What follows `welcomb/$forecast/`; null where nothing does. */
  readonly site: string | null;
  readonly payload: Uint8Array;
  /** The broker replayed it: it was said before we asked. */
  readonly retain: boolean;
  readonly receivedAtMs: number;
}

interface Told {
  readonly topic: string;
  readonly hours: readonly Hour[];
  readonly atMs: number;
}

export interface ToldForecasts {
  /** Takes it, or says in one sentence why not. Never throws. */
  take(message: ForecastMessage): string | null;
  night(site: Site, atMs: number): (Forecast & { readonly toldAtMs: number }) | undefined;
  states(): readonly ForecastState[];
}

const forAll = '';

export function toldForecasts(sites: () => readonly Site[], clock: () => number): ToldForecasts {
  const told = new Map<string, Told>();
  const isFresh = ({ atMs }: Told): boolean => clock() - atMs <= staleMs;
  const of = ({ id }: Site): Told | undefined =>
    [told.get(id), told.get(forAll)]
      .filter((one) => one !== undefined && isFresh(one))
      .toSorted((a, b) => (b?.atMs ?? 0) - (a?.atMs ?? 0))[0];

  return {
    take({ topic, site: named, payload, retain, receivedAtMs }) {
      const site = named === null ? null : siteNamed(sites(), named);
      if (site === undefined) {
        const known = sites().map(({ name }) => `“${name}”`);
        return `a forecast for a site that there is not: “${named ?? ''}”; there is ${known.join(', ') || 'none yet'}`;
      }
      const read = readHours(new TextDecoder().decode(payload));
      if (!read.ok) return `this forecast can’t be used: ${read.why}`;
      const first = read.hours[0]?.atMs ?? receivedAtMs;
      const saidAtMs = read.issuedAtMs ?? (retain ? first : receivedAtMs);
      told.set(site?.id ?? forAll, { topic, hours: read.hours, atMs: Math.min(saidAtMs, receivedAtMs) });
      return null;
    },
    night(site, atMs) {
      const one = of(site);
      const night = one && nightOf(one.hours, site, atMs, one.topic);
      return one && night && { ...night, toldAtMs: one.atMs };
    },
    states: () =>
      sites().flatMap((site) => {
        const one = told.get(site.id) ?? told.get(forAll);
        if (!one) return [];
        const problem = isFresh(one)
          ? null
          : `The forecast on ${one.topic} is older than ${String(staleMs / 3_600_000)} hours and no longer believed.`;
        return [{ site: site.name, host: one.topic, fetchedAtMs: one.atMs, problem }];
      }),
  };
}

const siteNamed = (sites: readonly Site[], named: string): Site | undefined =>
  sites.find(({ id }) => id === named) ??
  sites.find(({ name }) => name.toLocaleLowerCase() === named.toLocaleLowerCase());
