/** Forecasts come out as they became known, once each, and no more of them than can be of use. */
import { describe, expect, it } from 'vitest';
import type { KeptForecast } from '../../server/store/forecasts.ts';
import { temporaryStore } from './support/temporary-store.ts';

const minute = 60_000;
const hour = 60 * minute;
const day = 24 * hour;
const may1 = Date.UTC(2026, 4, 1);
const forecast = (knownAtMs: number, over: Partial<KeptForecast> = {}): KeptForecast => ({
  kind: 'topic',
  siteId: null,
  source: 'a/topic',
  saidAtMs: knownAtMs,
  knownAtMs,
  hours: Array.from({ length: 72 }, (_, i) => ({ atMs: may1 + i * hour, temperatureC: 10 - i / 10 })),
  ...over,
});

describe('forecasts', () => {
  it('come out as they were known at an instant, each kind and site by itself', () => {
    const { forecasts } = temporaryStore();
    expect(forecasts.at('topic', null, may1 + day)).toBeUndefined();
    forecasts.keep(forecast(may1));
    forecasts.keep(forecast(may1 + hour, { source: 'b/topic' }));
    forecasts.keep(forecast(may1, { kind: 'address', siteId: 'hill' }));
    expect(forecasts.at('topic', null, may1 - 1)).toBeUndefined();
    expect(forecasts.at('topic', null, may1 + hour - 1)?.source).toBe('a/topic');
    expect(forecasts.at('topic', null, may1 + hour)).toMatchObject({
      source: 'b/topic',
      saidAtMs: may1 + hour,
    });
    expect(forecasts.at('topic', 'hill', may1 + hour)).toBeUndefined();
    expect(forecasts.at('address', 'hill', may1 + hour)?.siteId).toBe('hill');
    const { hours = [] } = forecasts.at('topic', null, may1) ?? {};
    // Of 72 hours those that a night ahead can use.
    expect(hours).toEqual(forecast(may1).hours.slice(0, 48));
  });

  it('are kept once, however often a broker says them, and not with each breath', () => {
    const { forecasts } = temporaryStore();
    forecasts.keep(forecast(may1));
    forecasts.keep(forecast(may1 + 5 * hour, { saidAtMs: may1 }));
    expect(forecasts.at('topic', null, may1 + day)?.knownAtMs).toBe(may1);
    const corrected = forecast(may1 + 6 * hour, {
      saidAtMs: may1,
      hours: [{ atMs: may1 + 8 * hour, temperatureC: 1 }],
    });
    forecasts.keep(corrected);
    expect(forecasts.at('topic', null, may1 + day)).toEqual(corrected);
    for (let i = 1; i <= 120; i++) forecasts.keep(forecast(may1 + day + i * 10_000));
    const known = new Set<number | undefined>();
    for (let ms = may1 + day; ms <= may1 + day + 20 * minute; ms += 10_000)
      known.add(forecasts.at('topic', null, ms)?.knownAtMs);
    expect(known.size).toBeLessThanOrEqual(3);
    expect(forecasts.at('topic', null, may1 + 2 * day)?.knownAtMs).toBe(may1 + day + 20 * minute);
  });

  it('are let go after more than a year', () => {
    const { forecasts } = temporaryStore();
    forecasts.keep(forecast(may1));
    forecasts.keep(forecast(may1 + 399 * day));
    expect(forecasts.at('topic', null, may1 + day)).toBeDefined();
    forecasts.keep(forecast(may1 + 401 * day));
    expect(forecasts.at('topic', null, may1 + day)).toBeUndefined();
    expect(forecasts.at('topic', null, may1 + 400 * day)?.knownAtMs).toBe(may1 + 399 * day);
  });
});
