/** The farm as pages and rules see it: watches the nucs, answers the HTTP layer's questions, tells what happened. */
import type { EventsHub } from '../views/events-hub.ts';
import { farmSettings, unavailableDays } from '../farm/settings.ts';
import type { Views } from '../views/views.ts';
import type { NucForHub, Publish } from '../notify/mqtt.ts';
import type { Effect } from '../rules/engine/alert-state.ts';
import type { CommitResult } from '../store/port.ts';
import type { Store } from '../store/store.ts';
import { liveReadings } from '../views/live-readings.ts';
import { limitsKey, readLimits } from '../views/limits-view.ts';
import { farmViews } from '../views/farm-views.ts';
import type { ForecastState } from '../forecast/hours.ts';
import { createForecasts } from '../forecast/fetch.ts';
import type { ForecastMessage } from '../forecast/published.ts';
import { stageFacts } from '../watch/stage-facts.ts';
import { createTeller } from './notifier.ts';
import { startWatch, tickMs, type Watch } from '../watch/watch.ts';

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
  /** What the store says about it, one or two sentences. */
  readonly storeRefusingWhy: string | null;
}

export interface WayIn {
  readonly facts: () => ServerFacts;
  readonly publish: Publish;
}

export interface Farm {
  readonly views: Views;
  readonly watch: Watch;
  /** Zone of the first site; UTC on a server that has none yet. */
  timeZone(): string;
  onCommitted(result: CommitResult): void;
  /** Open pages show the tray anew, at most once a second. */
  onQuarantined(): void;
  /** Once the way in stands: how it is doing, and how to publish through it. */
  connect(way: WayIn): void;
  /** Tells whoever watches the server that it is well. */
  beat(whyNot: string | null): Promise<void>;
  /** How it stands with what others foresee, site by site; empty where nothing is asked. */
  forecasts(): readonly ForecastState[];
  /** A forecast that somebody published; null, or why it can't be used. */
  takeForecast(message: ForecastMessage): string | null;
  /** Once a minute: every rule about everything, then what is to be told. */
  minute(): Promise<void>;
  /** Something about the server itself changed that can't wait for the minute. */
  lookSoon(): void;
  start(): void;
  stop(): void;
}

/** How soon after a reading its nuc is looked at again. */
const soonMs = 250;
/** A device that is not understood may speak many times a second. */
const trayMs = 1_000;
/** How often the outbox is looked at: what gathers for some seconds must not wait for the minute. */
const postMs = 10_000;
const megabyte = 1_000_000;

export function createFarm({ store, events, clock, startedAtMs, onError }: FarmDeps): Farm {
  let wayIn: WayIn = {
    facts: () => ({ brokerAwaySinceMs: null, storeRefusingSinceMs: null, storeRefusingWhy: null }),
    publish: () => Promise.reject(new Error('there is no broker to publish through yet')),
  };
  const forecasts = createForecasts({
    address: () => farmSettings(store.settings).forecastUrl,
    sites: () => store.places.listSites(),
    clock,
    store: store.forecasts,
  });
  const timeZone = (): string => store.places.listSites()[0]?.timeZone ?? 'UTC';
  const watch = startWatch({
    store,
    startedAtMs,
    limits: () => readLimits(store.settings.get(limitsKey)),
    choices: () => ({
      chanceLimit: farmSettings(store.settings).standingCellLimit,
      unavailableDates: unavailableDays(store.settings),
      units: farmSettings(store.settings).display,
    }),
    forecast: (siteId, atMs) => forecasts.night(siteId, atMs),
    server: () => {
      const { brokerAwaySinceMs, ...refusing } = wayIn.facts();
      return { brokerAwaySinceMs, disk: diskFacts(store, refusing) };
    },
    timeZone,
    onEffects: (effects, nowMs) => {
      teller.onEffects(effects, nowMs);
      publishAlerts(events, effects);
    },
    onNucs: (ids) => {
      for (const id of ids) events.publish({ type: 'nuc', id });
    },
    steadyMs: () => performance.now(),
  });
  const teller = createTeller({
    store,
    clock,
    timeZone,
    publish: (publication) => wayIn.publish(publication),
    openPages: () => events.clients,
    nucs: () => nucsForHub(watch, clock()),
    complain: onError,
  });
  const live = liveReadings(store, events, (nowMs) => watch.where(nowMs));
  let soon: NodeJS.Timeout | undefined;
  let tray: NodeJS.Timeout | undefined;
  let minutes: NodeJS.Timeout | undefined;
  let posts: NodeJS.Timeout | undefined;
  let warming: NodeJS.Immediate | undefined;

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

  const views = farmViews({
    store,
    events,
    watch,
    timeZone,
    wake: workSoon,
    tryTelling: (id, nowMs) => teller.tryOne(id, nowMs),
  });

  async function minute(): Promise<void> {
    guarded(() => {
      watch.tick(clock());
    });
    // Not waited for: a slow answer must not hold up what is to be told.
    forecasts.onMinute().catch(onError);
    await teller.onMinute(watch.book.alerts.values(), clock());
  }
  const tick = (): void => {
    minute().catch(onError);
  };

  /**
   * After a start nothing has been read of any nuc yet. That is done one by one, so that readings are taken and pages
   * answered in between; the first look at everything follows.
   */
  function warmUp(nucIds: readonly string[], at = 0): void {
    const id = nucIds[at];
    if (id === undefined) {
      tick();
      return;
    }
    guarded(() => {
      watch.analysis(id, clock());
    });
    warming = setImmediate(warmUp, nucIds, at + 1);
  }

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
    onQuarantined() {
      tray ??= setTimeout(() => {
        tray = undefined;
        events.publish({ type: 'channels' });
      }, trayMs);
    },
    connect(way) {
      wayIn = way;
    },
    beat: (whyNot) => teller.beat(whyNot),
    forecasts: () => forecasts.states(),
    takeForecast: (message) => forecasts.take(message),
    minute,
    lookSoon() {
      if (minutes) setImmediate(tick);
    },
    start() {
      warming = setImmediate(() => {
        guarded(() => {
          warmUp(watch.where(clock()).nucs.map(({ id }) => id));
        });
      });
      minutes = setInterval(tick, tickMs);
      posts = setInterval(() => {
        teller.pump().catch(onError);
      }, postMs);
    },
    stop() {
      clearTimeout(soon);
      clearTimeout(tray);
      clearInterval(minutes);
      minutes = undefined;
      clearInterval(posts);
      clearImmediate(warming);
    },
  };
}

function diskFacts(store: Store, refusing: Pick<ServerFacts, 'storeRefusingSinceMs' | 'storeRefusingWhy'>) {
  const { storeRefusingSinceMs: refusingSinceMs, storeRefusingWhy: refusingWhy } = refusing;
  try {
    const { freeBytes, writtenTodayBytes } = store.diagnostics();
    if (freeBytes === null) return null;
    const writtenPerDayMB = writtenTodayBytes === null ? null : writtenTodayBytes / megabyte;
    return { freeMB: freeBytes / megabyte, writtenPerDayMB, refusingSinceMs, refusingWhy };
  } catch {
    // A store that can't even be asked is one that refuses.
    return refusingSinceMs === null
      ? null
      : { freeMB: 0, writtenPerDayMB: null, refusingSinceMs, refusingWhy };
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

function nucsForHub(watch: Watch, nowMs: number): NucForHub[] {
  return watch.where(nowMs).nucs.flatMap(({ id, name }) => {
    const analysis = watch.analysis(id, nowMs);
    if (!analysis) return [];
    const { site } = analysis;
    return [
      {
        id,
        name,
        siteName: site.name,
        timeZone: site.timeZone,
        stage: stageFacts(analysis)?.words ?? 'no introduction',
      },
    ];
  });
}
