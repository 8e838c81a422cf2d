/** The farm as pages and rules see it: watches the nucs, answers the HTTP layer, sends notifications. */
import type { EventsHub } from '../views/events-hub.ts';
import { farmSetting, farmSettings, unavailableDays } from '../farm/settings.ts';
import type { Views } from '../views/views.ts';
import type { Heartbeat } from '../notify/heartbeat.ts';
import type { Publish } from '../notify/mqtt.ts';
import type { Effect } from '../rules/engine/alert-state.ts';
import { limitsKey, readLimits } from '../rules/engine/stored-limits.ts';
import type { CommitResult } from '../store/port.ts';
import type { Store } from '../store/store.ts';
import { liveReadings } from '../views/live-readings.ts';
import { farmViews } from '../views/farm-views.ts';
import { createForecasts, type Forecasts } from '../forecast/fetch.ts';
import type { ForecastMessage } from '../forecast/published.ts';
import { diskFacts, type StoreRefusing } from './disk-facts.ts';
import { nucsForHub } from './hub-nucs.ts';
import { createNotifier, type Notifier } from './notifier.ts';
import { tickMs, Watch, type WatchDeps } from '../watch/watch.ts';

export interface FarmDeps {
  readonly store: Store;
  readonly events: EventsHub;
  readonly clock: () => number;
  readonly startedAtMs: number;
  readonly onError: (error: unknown) => void;
  /** A sentence for the log about what the owner set up and can’t be used; `onError` where absent. */
  readonly onWarning?: (sentence: string) => void;
}

/** What the rules about the server itself look at. */
export interface ServerFacts extends StoreRefusing {
  readonly brokerAwaySinceMs: number | null;
  /** Since when it has been connected, or away. */
  readonly brokerSinceMs: number;
}

export interface IngestLink {
  readonly facts: () => ServerFacts;
  readonly publish: Publish;
}

export interface Farm {
  readonly views: Views;
  readonly watch: Watch;
  /** Zone of the first site; UTC on a server that has none yet. */
  timeZone(): string;
  onCommitted(result: CommitResult): void;
  /** Open pages show the quarantine anew, at most once a second. */
  onQuarantined(): void;
  /** Once ingest has started: its state, and how to publish through it. */
  connect(link: IngestLink): void;
  /** The heartbeat to the monitoring service. */
  beat(whyNot: string | null): Promise<void>;
  /** How it stands with it; null where no address is set. */
  heartbeat(): Heartbeat | null;
  /** What others foresee: how it stands, and asking for it. */
  readonly forecasts: Pick<Forecasts, 'states' | 'onMinute'>;
  /** A forecast that somebody published; null, or why it can't be used. */
  takeForecast(message: ForecastMessage): string | null;
  /** Once a minute: every rule about everything, then the notifications. */
  minute(): Promise<void>;
  /** Something about the server itself changed that can't wait for the minute. */
  evaluateSoon(): void;
  start(): void;
  stop(): void;
}

/** How soon after a reading its nuc is evaluated again. */
const evaluateDelayMs = 250;
/** Between two stretches of work on the past: an alert that began earlier waits for it. */
const catchUpPauseMs = 100;
/** A device that is not understood may send many messages a second. */
const quarantineMs = 1_000;
/** How often the outbox is looked at: what gathers for some seconds must not wait for the minute. */
const outboxMs = 10_000;

const notConnected: IngestLink = {
  facts: () => ({
    brokerAwaySinceMs: null,
    brokerSinceMs: 0,
    storeRefusingSinceMs: null,
    storeRefusingWhy: null,
  }),
  publish: () => Promise.reject(new Error('there is no broker to publish through yet')),
};

export const createFarm = (deps: FarmDeps): Farm => new FarmService(deps);

class FarmService implements Farm {
  readonly views: Views;
  readonly watch: Watch;
  readonly #deps: FarmDeps;
  readonly forecasts: Forecasts;
  readonly #notifier: Notifier;
  readonly #showLive: ReturnType<typeof liveReadings>;
  #ingest = notConnected;
  #soon: NodeJS.Timeout | undefined;
  #quarantineShown: NodeJS.Timeout | undefined;
  #minutes: NodeJS.Timeout | undefined;
  #outbox: NodeJS.Timeout | undefined;
  #warming: NodeJS.Immediate | undefined;
  #wasLooking = true;

  constructor(deps: FarmDeps) {
    const { store, events, clock } = deps;
    this.#deps = deps;
    this.forecasts = createForecasts({
      address: () => farmSetting(store.settings, 'forecastUrl') ?? '',
      sites: () => store.places.listSites(),
      clock,
      store: store.forecasts,
    });
    this.watch = new Watch(this.#watchDeps());
    this.#notifier = createNotifier({
      store,
      clock,
      timeZone: () => this.timeZone(),
      publish: (publication) => this.#ingest.publish(publication),
      brokerSinceMs: () => this.#ingest.facts().brokerSinceMs,
      openPages: () => events.clients,
      nucs: () => nucsForHub(this.watch, clock()),
      complain: deps.onWarning ?? deps.onError,
      onError: deps.onError,
    });
    this.#showLive = liveReadings(store, events, (nowMs) => this.watch.where(nowMs));
    this.views = farmViews({
      store,
      events,
      watch: this.watch,
      timeZone: () => this.timeZone(),
      wake: () => {
        this.#evaluateNucsSoon();
      },
      tryNotificationChannel: (id, nowMs) => this.#notifier.tryChannel(id, nowMs),
    });
  }

  #watchDeps(): WatchDeps {
    const { store, events, startedAtMs } = this.#deps;
    return {
      store,
      startedAtMs,
      limits: () => readLimits(store.settings.get(limitsKey)).limits,
      choices: () => ({
        chanceLimit: farmSetting(store.settings, 'standingCellLimit'),
        unavailableDates: unavailableDays(store.settings),
        units: farmSettings(store.settings).display,
      }),
      historyStepMs: () => farmSettings(store.settings).historyStepMinutes * tickMs,
      forecast: (siteId, atMs) => this.forecasts.night(siteId, atMs),
      server: () => {
        const { brokerAwaySinceMs, ...refusing } = this.#ingest.facts();
        return { brokerAwaySinceMs, disk: diskFacts(store, refusing) };
      },
      timeZone: () => this.timeZone(),
      onEffects: (effects, nowMs) => {
        this.#notifier.onEffects(effects, nowMs);
        publishAlerts(events, effects);
      },
      onNucs: (ids) => {
        for (const id of ids) events.publish({ type: 'nuc', id });
      },
      steadyMs: () => performance.now(),
    };
  }

  timeZone(): string {
    return this.#deps.store.places.listSites()[0]?.timeZone ?? 'UTC';
  }

  onCommitted(result: CommitResult): void {
    const nowMs = this.#deps.clock();
    this.#guarded(() => {
      this.watch.readingsCame(result, nowMs);
      this.#showLive(result, nowMs);
    });
    this.#evaluateNucsSoon();
  }

  onQuarantined(): void {
    this.#quarantineShown ??= setTimeout(() => {
      this.#quarantineShown = undefined;
      this.#deps.events.publish({ type: 'channels' });
    }, quarantineMs);
  }

  connect(link: IngestLink): void {
    this.#ingest = link;
  }

  beat(whyNot: string | null): Promise<void> {
    return this.#notifier.beat(whyNot);
  }

  heartbeat(): Heartbeat | null {
    return this.#notifier.heartbeat();
  }

  takeForecast(message: ForecastMessage): string | null {
    return this.forecasts.take(message);
  }

  async minute(): Promise<void> {
    const { clock, onError } = this.#deps;
    this.#guarded(() => {
      this.watch.tick(clock());
      this.#showWhetherLooking();
    });
    // Not waited for: a slow answer must not hold up notifications.
    this.forecasts.onMinute().catch(onError);
    await this.#notifier.onMinute(this.watch.book.alerts.values(), clock());
  }

  evaluateSoon(): void {
    if (this.#minutes) setImmediate(this.#tick);
  }

  start(): void {
    this.#warming = setImmediate(() => {
      this.#guarded(() => {
        this.#warmUp(this.watch.where(this.#deps.clock()).nucs.map(({ id }) => id));
      });
    });
    this.#minutes = setInterval(this.#tick, tickMs);
    this.#outbox = setInterval(() => {
      this.#notifier.pump().catch(this.#deps.onError);
    }, outboxMs);
  }

  stop(): void {
    clearTimeout(this.#soon);
    clearTimeout(this.#quarantineShown);
    clearInterval(this.#minutes);
    this.#minutes = undefined;
    clearInterval(this.#outbox);
    clearImmediate(this.#warming);
  }

  readonly #tick = (): void => {
    this.minute().catch(this.#deps.onError);
  };

  #guarded(step: () => void): void {
    try {
      step();
    } catch (error) {
      this.#deps.onError(error);
    }
  }

  /** Open pages ask for the alerts anew. */
  #showWhetherLooking(): void {
    const { isLooking } = this.watch;
    if (isLooking !== this.#wasLooking) this.#deps.events.publish({ type: 'status' });
    this.#wasLooking = isLooking;
  }

  #evaluateNucsSoon(): void {
    this.#soon ??= setTimeout(
      () => {
        this.#soon = undefined;
        this.#guarded(() => {
          const isMore = this.watch.work(this.#deps.clock());
          this.#showWhetherLooking();
          if (isMore) this.#evaluateNucsSoon();
        });
      },
      this.watch.isCatchingUp ? catchUpPauseMs : evaluateDelayMs,
    );
  }

  /**
   * After a start nothing has been read of any nuc yet. That is done one by one, so that readings are taken and pages
   * answered in between; the first evaluation of everything follows.
   */
  #warmUp(nucIds: readonly string[], at = 0): void {
    const id = nucIds[at];
    if (id === undefined) {
      this.#tick();
      return;
    }
    this.#guarded(() => {
      this.watch.analysis(id, this.#deps.clock());
    });
    this.#warming = setImmediate(() => {
      this.#warmUp(nucIds, at + 1);
    });
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
