/**
 * A weather forecast from an address that the keeper names, as plain JSON: an array of hours,
 * `[{"time": "2026-05-12T21:00:00Z", "temperature": 8.4, "wind": 2.1, "rain": 0, "cloud": 0.3}, …]`, with °C, m/s, mm in
 * that hour and cloud as a share of the sky; only time and temperature have to be there. `{lat}` and `{lon}` in the
 * address stand for the site's place. Nothing is asked of anybody as long as no address is set.
 */
import { pauseAfterMs } from '../notify/backoff.ts';
import type { Forecast } from '../signals/types.ts';
import type { Site } from '../store/places/sites.ts';
import { readHours, type ForecastState, type Hour } from './hours.ts';
import { knownNight, type ForecastStore } from './known.ts';
import { toldForecasts, type ForecastMessage } from './published.ts';

const hourMs = 3_600_000;
const everyMs = hourMs;
const mostBytes = 256 * 1024;
const patienceMs = 15_000;

interface Kept {
  url: string;
  fetchedAtMs: number | null;
  problem: string | null;
  attempts: number;
  nextMs: number;
  underWay: boolean;
}

export interface ForecastDeps {
  /** The address as it is set; '' where none is. */
  readonly address: () => string;
  readonly sites: () => readonly Site[];
  readonly clock: () => number;
  readonly store: ForecastStore;
}

export interface Forecasts {
  /** Asks where it is due. Throws `StoreUnavailable` where an answer can't be kept. */
  onMinute(): Promise<void>;
  /** The lowest temperature of the night that is under way or comes next at an instant. */
  night(siteId: string, atMs: number): Forecast | undefined;
  /** One that was published; null, or one sentence that says why it can't be used. */
  take(message: ForecastMessage): string | null;
  states(): readonly ForecastState[];
}

export function createForecasts({ address, sites, clock, store }: ForecastDeps): Forecasts {
  const kept = new Map<string, Kept>();
  const told = toldForecasts(sites, clock, store);

  /** What another address answered, or one that is no longer set, is not believed any more. */
  function withdraw(siteId: string): void {
    const last = store.at('address', siteId, clock());
    if (last && last.hours.length > 0)
      store.keep({ ...last, saidAtMs: clock(), knownAtMs: clock(), hours: [] });
  }

  function of(site: Site): Kept {
    const url = urlFor(address(), site);
    let known = kept.get(site.id);
    if (known?.url !== url) {
      if (known) withdraw(site.id);
      known = {
        url,
        fetchedAtMs: null,
        problem: null,
        attempts: 0,
        nextMs: -Infinity,
        underWay: false,
      };
      kept.set(site.id, known);
    }
    return known;
  }

  async function ask(site: Site): Promise<void> {
    const one = of(site);
    one.underWay = true;
    const answer = await fetchForecast(one.url);
    one.underWay = false;
    const nowMs = clock();
    // The address may have been changed since.
    if (kept.get(site.id) !== one) return;
    if (answer.ok) {
      store.keep({
        ...{ kind: 'address', siteId: site.id, source: hostOf(one.url) },
        ...{ saidAtMs: nowMs, knownAtMs: nowMs, hours: answer.hours },
      });
      Object.assign(one, {
        fetchedAtMs: nowMs,
        problem: null,
        attempts: 0,
        nextMs: nowMs + everyMs,
      });
      return;
    }
    one.attempts += 1;
    one.problem = answer.problem;
    one.nextMs = nowMs + pauseAfterMs(one.attempts);
  }

  return {
    async onMinute() {
      if (address() === '') {
        kept.clear();
        for (const { id } of sites()) withdraw(id);
        return;
      }
      const due = sites().filter((site) => {
        const { underWay, nextMs } = of(site);
        return !underWay && nextMs <= clock();
      });
      await Promise.all(due.map(ask));
    },
    night(siteId, atMs) {
      const site = sites().find(({ id }) => id === siteId);
      return site && knownNight(store, site, atMs);
    },
    take: told.take,
    states: () => [
      ...(address() === '' ? [] : sites()).map((site) => {
        const { url, fetchedAtMs, problem } = of(site);
        return { site: site.name, host: hostOf(url), fetchedAtMs, problem };
      }),
      ...told.states(),
    ],
  };
}

const urlFor = (address: string, { latDeg, lonDeg }: Site): string =>
  address.trim().replaceAll('{lat}', String(latDeg)).replaceAll('{lon}', String(lonDeg));
const hostOf = (url: string): string => (URL.canParse(url) ? new URL(url).host : 'the address');

type Answer =
  { readonly ok: true; readonly hours: readonly Hour[] } | { readonly ok: false; readonly problem: string };

/** Never throws; the problem names the host and never the rest of the address. */
export async function fetchForecast(address: string): Promise<Answer> {
  const url = URL.canParse(address) ? new URL(address) : null;
  if (!url || !['http:', 'https:'].includes(url.protocol))
    return { ok: false, problem: 'The address of the forecast has to be an http or https URL.' };
  const problem = (why: string): Answer => ({
    ok: false,
    problem: `The forecast of ${url.host} can't be used: ${why}.`,
  });
  try {
    // No redirects: what the keeper did not name is not asked.
    const response = await fetch(url, {
      headers: { accept: 'application/json', 'user-agent': 'welcomb' },
      redirect: 'manual',
      signal: AbortSignal.timeout(patienceMs),
    });
    if (!response.ok) {
      await response.body?.cancel();
      return problem(`it answered ${String(response.status)}`);
    }
    const text = await limitedText(response);
    if (text === null) return problem(`it sends more than ${String(mostBytes / 1024)} KiB`);
    const read = readHours(text);
    return read.ok ? read : problem(read.why);
  } catch (error) {
    const late = error instanceof Error && error.name === 'TimeoutError';
    return problem(late ? 'it did not answer in time' : 'it could not be reached');
  }
}

/** The body, or null where it is too long; what is too long is not read on. */
async function limitedText({ body }: Response): Promise<string | null> {
  if (!body) return '';
  const parts: Uint8Array[] = [];
  let bytes = 0;
  for await (const part of body as AsyncIterable<Uint8Array>) {
    bytes += part.length;
    if (bytes > mostBytes) return null;
    parts.push(part);
  }
  return Buffer.concat(parts).toString('utf8');
}
