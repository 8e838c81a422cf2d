/** The farm as pages and rules see it: watches the nucs, answers the HTTP layer's questions, tells what happened. */
import type { EventsHub } from '../http/events-hub.ts';
import { farmSettings, unavailableDays } from '../http/farm.ts';
import type { Views } from '../http/views.ts';
import type { Effect } from '../rules/alert-state.ts';
import type { Forecast } from '../signals/types.ts';
import type { CommitResult } from '../store/port.ts';
import type { Store } from '../store/store.ts';
import { liveReadings } from './live-readings.ts';
import { limitsKey, readLimits } from './views/limits-view.ts';
import { farmViews } from './farm-views.ts';
import { startWatch, tickMs, type Watch } from './watch.ts';

export interface FarmDeps {
  readonly store: Store;
  readonly events: EventsHub;
  readonly clock: () => number;
  readonly startedAtMs: number;
  readonly onError: (error: unknown) => void;
}

/** What the rules about the server itself look at. */
export interface ServerFacts {
  readonly brokerAwaySinceMs: number | null;
  readonly storeRefusingSinceMs: number | null;
}

export interface Farm {
  readonly views: Views;
  readonly watch: Watch;
  /** Zone of the first site; UTC on a server that has none yet. */
  timeZone(): string;
  onCommitted(result: CommitResult): void;
  watchServer(facts: () => ServerFacts): void;
  start(): void;
  stop(): void;
}

/** How soon after a reading its nuc is looked at again. */
const soonMs = 250;
const megabyte = 1_000_000;

export function createFarm({ store, events, clock, startedAtMs, onError }: FarmDeps): Farm {
  let serverFacts: () => ServerFacts = () => ({ brokerAwaySinceMs: null, storeRefusingSinceMs: null });
  const forecasts = new Map<string, Forecast>();
  const timeZone = (): string => store.places.listSites()[0]?.timeZone ?? 'UTC';
  const watch = startWatch({
    store,
    startedAtMs,
    limits: () => readLimits(store.settings.get(limitsKey)),
    choices: () => ({
      chanceLimit: farmSettings(store.settings).standingCellLimit,
      unavailableDates: unavailableDays(store.settings),
    }),
    forecast: (siteId) => forecasts.get(siteId),
    server: () => {
      const { brokerAwaySinceMs, storeRefusingSinceMs } = serverFacts();
      return { brokerAwaySinceMs, disk: diskFacts(store, storeRefusingSinceMs) };
    },
    timeZone,
    onEffects: (effects) => {
      publishAlerts(events, effects);
    },
    onNucs: (ids) => {
      for (const id of ids) events.publish({ type: 'nuc', id });
    },
    steadyMs: () => performance.now(),
  });
  const live = liveReadings(store, events, (nowMs) => watch.where(nowMs));
  let soon: NodeJS.Timeout | undefined;
  let minutes: NodeJS.Timeout | undefined;

  const guarded = (step: () => void): void => {
    try {
      step();
    } catch (error) {
      onError(error);
    }
  };
  const workSoon = (): void => {
    soon ??= setTimeout(() => {
      soon = undefined;
      guarded(() => {
        if (watch.work(clock())) workSoon();
      });
    }, soonMs);
  };

  const views = farmViews({ store, events, watch, timeZone, wake: workSoon });

  return {
    views,
    watch,
    timeZone,
    onCommitted(result) {
      const nowMs = clock();
      guarded(() => {
        watch.readingsCame(result, nowMs);
        live(result, nowMs);
      });
      workSoon();
    },
    watchServer(facts) {
      serverFacts = facts;
    },
    start() {
      const tick = (): void => {
        guarded(() => {
          watch.tick(clock());
        });
      };
      setImmediate(tick);
      minutes = setInterval(tick, tickMs);
    },
    stop() {
      clearTimeout(soon);
      clearInterval(minutes);
    },
  };
}

function diskFacts(store: Store, refusingSinceMs: number | null) {
  try {
    const { freeBytes, writtenTodayBytes } = store.diagnostics();
    if (freeBytes === null) return null;
    const writtenPerDayMB = writtenTodayBytes === null ? null : writtenTodayBytes / megabyte;
    return { freeMB: freeBytes / megabyte, writtenPerDayMB, refusingSinceMs };
  } catch {
    // A store that can't even be asked is one that refuses.
    return refusingSinceMs === null ? null : { freeMB: 0, writtenPerDayMB: null, refusingSinceMs };
  }
}

function publishAlerts(events: EventsHub, effects: readonly Effect[]): void {
  for (const { kind, episode, subject } of effects) {
    const first = episode.message.todo.find((part) => typeof part === 'string');
    events.publish({
      type: 'alert',
      id: episode.id,
      phase: kind,
      urgency: episode.urgency,
      headline: `${subject.name}: ${first ?? ''}`,
    });
  }
}
