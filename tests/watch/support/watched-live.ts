/** A simulated nuc that the server watches minute by minute, and what it told of it. */
import { createEventsHub } from '../../../server/views/events-hub.ts';
import { createFarm, type Farm } from '../../../server/service/farm-service.ts';
import { episodeOf, isOpen } from '../../../server/rules/engine/alert-state.ts';
import { nucsOf } from '../../../server/rules/engine/suppression.ts';
import { openStore, type Store } from '../../../server/store/store.ts';
import type { CommitResult, IncomingReading } from '../../../server/store/port.ts';
import type { ScenarioOptions } from '../../../simulator/index.ts';
import { assignSimulated, foundSimulated, type SimulatedHistory } from '../../support/simulated-history.ts';

const minuteMs = 60_000;
/** Before the split. */
const leadMs = 4 * 60 * minuteMs;

export interface Told {
  readonly ruleId: string;
  /** The name of the nuc, or of the sensor. */
  readonly about: string;
  readonly raisedAt: string;
  readonly clearedAt: string | null;
  readonly urgency: string;
}

const byInstant = (a: Told, b: Told): number =>
  a.raisedAt.localeCompare(b.raisedAt) || a.ruleId.localeCompare(b.ruleId) || a.about.localeCompare(b.about);
export const iso = (atMs: number): string => new Date(atMs).toISOString();

export interface WatchedLive {
  readonly store: Store;
  readonly farm: Farm;
  readonly history: SimulatedHistory;
  readonly fromMs: number;
  readonly toMs: number;
  /** Alerts about the nuc and its sensors, in the order of their raising. */
  told(): Told[];
  stop(): void;
}

export interface ComesIn {
  /** The span that is watched: from shortly before the split to the end of the simulation where absent. */
  readonly span?: { readonly fromMs: number; readonly toMs: number };
  /** What the way in makes of a reading. */
  readonly asFlagged?: (reading: IncomingReading) => IncomingReading;
  /** What else comes in, before the tick of a minute. */
  readonly atMinute?: (farm: Farm, nowMs: number) => void;
}

export function watchedLive(
  file: string,
  nucId: string,
  options: ScenarioOptions & { readonly splitMs: number },
  { asFlagged = (reading) => reading, atMinute = () => undefined, span }: ComesIn = {},
): WatchedLive {
  let nowMs = span?.fromMs ?? options.splitMs - leadMs;
  const fromMs = nowMs;
  const store = openStore({ file, nowMs: () => nowMs });
  const events = createEventsHub();
  const onError = (error: unknown): void => {
    throw error;
  };
  const founded = foundSimulated(store, nucId, options);
  const history = { ...founded, readings: founded.readings.map(asFlagged) };
  const toMs = span?.toMs ?? history.endMs;
  const incoming = new Incoming(store, history);
  // What lies before the span is in the store when the server starts.
  incoming.take(fromMs - minuteMs);
  assignSimulated(store, history);
  const farm = createFarm({ store, events, clock: () => nowMs, startedAtMs: fromMs, onError });
  for (; nowMs <= toMs; nowMs += minuteMs) {
    atMinute(farm, nowMs);
    minute(farm, incoming, store, history, nowMs);
  }
  return {
    store,
    farm,
    history,
    fromMs,
    toMs,
    told: () => toldLive(farm, nucId),
    stop() {
      farm.stop();
      events.close();
      store.close();
    },
  };
}

/** What of a history has come by an instant. */
class Incoming {
  readonly #store: Store;
  readonly #history: SimulatedHistory;
  #read = 0;
  #written = 0;

  constructor(store: Store, history: SimulatedHistory) {
    this.#store = store;
    this.#history = history;
  }

  take(untilMs: number): { readonly committed: CommitResult | null; readonly logged: boolean } {
    const { readings, log } = this.#history;
    const [read, written] = [this.#read, this.#written];
    while ((readings[this.#read]?.observedAtMs ?? Infinity) <= untilMs) this.#read += 1;
    while ((log[this.#written]?.writtenAtMs ?? Infinity) <= untilMs) this.#written += 1;
    const batch = { readings: readings.slice(read, this.#read), quarantined: [], lastKnown: [] };
    const committed = batch.readings.length > 0 ? this.#store.ingest.commit(batch) : null;
    if (this.#written > written) this.#store.introductions.append(log.slice(written, this.#written));
    return { committed, logged: this.#written > written };
  }
}

/** As the server's own timers go. */
function minute(
  farm: Farm,
  incoming: Incoming,
  store: Store,
  history: SimulatedHistory,
  nowMs: number,
): void {
  const { committed, logged } = incoming.take(nowMs);
  if (committed) farm.watch.readingsCame(committed, nowMs);
  if (assignSimulated(store, history)) farm.watch.setupChanged(nowMs);
  if (logged) farm.watch.logChanged(history.nucId);
  farm.watch.work(nowMs);
  farm.watch.tick(nowMs);
}

function toldLive(farm: Farm, nucId: string): Told[] {
  const open = [...farm.watch.book.alerts.values()].filter(isOpen).flatMap((alert) => {
    const episode = episodeOf(alert);
    return episode ? [{ ruleId: alert.ruleId, subject: alert.subject, episode, endedAtMs: null }] : [];
  });
  return [...open, ...farm.watch.book.ended(0, 10_000)]
    .filter(({ subject }) => nucsOf(subject).includes(nucId))
    .map(({ ruleId, subject, episode, endedAtMs }) => ({
      ruleId,
      about: subject.name,
      raisedAt: iso(episode.raisedAtMs),
      clearedAt: endedAtMs === null ? null : iso(endedAtMs),
      urgency: episode.urgency.replace('-', ' '),
    }))
    .sort(byInstant);
}
