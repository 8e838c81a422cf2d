/**
 * A weather forecast that somebody publishes over MQTT, for a home that has one already: on `welcomb/$forecast` for every
 * site, or on `welcomb/$forecast/<site>`, by the site's name or id, for one. The payload is what an address would answer
 * (see `fetch.ts`), or `{"issued": "2026-05-12T18:00:00Z", "hours": [ … ]}`. It is kept over a restart; how old one is that
 * a broker retained only `issued` tells, or else the first of its hours.
 */
import type { Site } from '../store/places/sites.ts';
import { readHours, staleMs, type ForecastState } from './hours.ts';
import { isBelieved, type ForecastStore } from './known.ts';
import { hourMs } from '../durations.ts';

export interface ForecastMessage {
  readonly topic: string;
  /** What follows `welcomb/$forecast/`; null where nothing does. */
  readonly site: string | null;
  readonly payload: Uint8Array;
  /** The broker replayed it: it was said before we asked. */
  readonly retain: boolean;
  readonly receivedAtMs: number;
}

export interface PublishedForecasts {
  /** Keeps it, or says in one sentence why not. Never throws. */
  take(message: ForecastMessage): string | null;
  states(): readonly ForecastState[];
}

export function publishedForecasts(
  sites: () => readonly Site[],
  clock: () => number,
  store: ForecastStore,
): PublishedForecasts {
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
      const saidAtMs = Math.min(read.issuedAtMs ?? (retain ? first : receivedAtMs), receivedAtMs);
      try {
        store.keep({
          kind: 'topic',
          siteId: site?.id ?? null,
          source: topic,
          saidAtMs,
          knownAtMs: receivedAtMs,
          hours: read.hours,
        });
        return null;
      } catch (error) {
        return `this forecast could not be stored: ${error instanceof Error ? error.message : String(error)}`;
      }
    },
    states: () =>
      sites().flatMap((site) => {
        const one = store.at('topic', site.id, clock()) ?? store.at('topic', null, clock());
        if (!one) return [];
        const problem = isBelieved(one, clock())
          ? null
          : `The forecast on ${one.source} is older than ${String(staleMs / hourMs)} hours and no longer believed.`;
        return [{ site: site.name, host: one.source, fetchedAtMs: one.saidAtMs, problem }];
      }),
  };
}

const siteNamed = (sites: readonly Site[], named: string): Site | undefined =>
  sites.find(({ id }) => id === named) ??
  sites.find(({ name }) => name.toLocaleLowerCase() === named.toLocaleLowerCase());
