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
import { publishedForecasts, type ForecastMessage } from './published.ts';
import { hourMs } from '../durations.ts';

const everyMs = hourMs;
const mostBytes = 256 * 1024;
const timeoutMs = 15_000;

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

export const createForecasts = (deps: ForecastDeps): Forecasts => new FetchedForecasts(deps);

class FetchedForecasts implements Forecasts {
  readonly #deps: ForecastDeps;
  readonly #published: ReturnType<typeof publishedForecasts>;
  readonly #bySite = new Map<string, Kept>();

  constructor(deps: ForecastDeps) {
    this.#deps = deps;
    this.#published = publishedForecasts(deps.sites, deps.clock, deps.store);
  }

  async onMinute(): Promise<void> {
    const { address, sites, clock } = this.#deps;
    if (address() === '') {
      this.#bySite.clear();
      for (const { id } of sites()) this.#withdraw(id);
      return;
    }
    const due = sites().filter((site) => {
      const { underWay, nextMs } = this.#of(site);
      const waitMs = nextMs - clock();
      // Longer than it ever waits: the clock was set back.
      return !underWay && (waitMs <= 0 || waitMs > everyMs);
    });
    await Promise.all(due.map((site) => this.#fetch(site)));
  }

  night(siteId: string, atMs: number): Forecast | undefined {
    const site = this.#deps.sites().find(({ id }) => id === siteId);
    return site && knownNight(this.#deps.store, site, atMs);
  }

  take(message: ForecastMessage): string | null {
    return this.#published.take(message);
  }

  states(): readonly ForecastState[] {
    const { address, sites } = this.#deps;
    const fetched = (address() === '' ? [] : sites()).map((site) => {
      const { url, fetchedAtMs, problem } = this.#of(site);
      return { site: site.name, host: hostOf(url), fetchedAtMs, problem };
    });
    return [...fetched, ...this.#published.states()];
  }

  async #fetch(site: Site): Promise<void> {
    const { store, clock } = this.#deps;
    const one = this.#of(site);
    one.underWay = true;
    const answer = await fetchForecast(one.url);
    one.underWay = false;
    const nowMs = clock();
    // The address may have been changed since.
    if (this.#bySite.get(site.id) !== one) return;
    // Until it is kept: a full disk is no reason to ask every minute.
    one.attempts += 1;
    one.nextMs = nowMs + pauseAfterMs(one.attempts);
    if (!answer.ok) {
      one.problem = answer.problem;
      return;
    }
    store.keep({
      kind: 'address',
      siteId: site.id,
      source: hostOf(one.url),
      saidAtMs: nowMs,
      knownAtMs: nowMs,
      hours: answer.hours,
    });
    Object.assign(one, { fetchedAtMs: nowMs, problem: null, attempts: 0, nextMs: nowMs + everyMs });
  }

  #of(site: Site): Kept {
    const url = urlFor(this.#deps.address(), site);
    const known = this.#bySite.get(site.id);
    if (known?.url === url) return known;
    if (known) this.#withdraw(site.id);
    const fresh = {
      url,
      fetchedAtMs: null,
      problem: null,
      attempts: 0,
      nextMs: -Infinity,
      underWay: false,
    };
    this.#bySite.set(site.id, fresh);
    return fresh;
  }

  /** What another address answered, or one that is no longer set, is not believed any more. */
  #withdraw(siteId: string): void {
    const { store, clock } = this.#deps;
    const last = store.at('address', siteId, clock());
    if (last && last.hours.length > 0)
      store.keep({ ...last, saidAtMs: clock(), knownAtMs: clock(), hours: [] });
  }
}

const urlFor = (address: string, { latDeg, lonDeg }: Site): string =>
  address.trim().replaceAll('{lat}', String(latDeg)).replaceAll('{lon}', String(lonDeg));
const hostOf = (url: string): string => (URL.canParse(url) ? new URL(url).host : 'the address');

type Answer =
  | { readonly ok: true; readonly hours: readonly Hour[] }
  | { readonly ok: false; readonly problem: string };

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
      signal: AbortSignal.timeout(timeoutMs),
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
