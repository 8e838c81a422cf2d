/** A simulated nuc that the server watches minute by minute, and what it told of it. */
import { createEventsHub } from '../../../server/views/events-hub.ts';
import { createFarm, type Farm } from '../../../server/service/farm.ts';
import { episodeOf, isOpen } from '../../../server/rules/engine/alert-state.ts';
import { nucsOf } from '../../../server/rules/engine/suppression.ts';
import { openStore, type Store } from '../../../server/store/store.ts';
import type { IncomingReading } from '../../../server/store/port.ts';
import type { ScenarioOptions } from '../../../simulator/index.ts';
import { assignSimulated, foundSimulated, type SimulatedHistory } from '../../support/simulated-history.ts';

const minuteMs = 60_000;
/** Before the split. */
export const leadMs = 4 * 60 * minuteMs;

export interface Told {
  readonly ruleId: string;
  /** The name of the nuc, or of the sensor. */
  readonly about: string;
  readonly raisedAt: string;
  readonly clearedAt: string | null;
  readonly urgency: string;
}

export const byInstant = (a: Told, b: Told): number =>
  a.raisedAt.localeCompare(b.raisedAt) || a.ruleId.localeCompare(b.ruleId) || a.about.localeCompare(b.about);
export const iso = (atMs: number): string => new Date(atMs).toISOString();

export interface WatchedLive {
  readonly store: Store;
  readonly farm: Farm;
  readonly history: SimulatedHistory;
  /** Alerts about the nuc and its sensors, in the order of their raising. */
  told(): Told[];
  stop(): void;
}

export interface ComesIn {
  /** What the way in makes of a reading. */
  readonly asFlagged?: (reading: IncomingReading) => IncomingReading;
  /** What else comes in, before the tick of a minute. */
  readonly atMinute?: (farm: Farm, nowMs: number) => void;
}

export function watchedLive(
  file: string,
  nucId: string,
  options: ScenarioOptions & { readonly splitMs: number },
  { asFlagged = (reading) => reading, atMinute = () => undefined }: ComesIn = {},
): WatchedLive {
  let nowMs = options.splitMs - leadMs;
  const store = openStore({ file, nowMs: () => nowMs });
  const events = createEventsHub();
  const onError = (error: unknown): void => {
    throw error;
  };
  const farm = createFarm({ store, events, clock: () => nowMs, startedAtMs: nowMs, onError });
  const founded = foundSimulated(store, nucId, options);
  const history = { ...founded, readings: founded.readings.map(asFlagged) };
  live(store, farm, history, (atMs) => {
    nowMs = atMs;
    atMinute(farm, atMs);
  });
  return {
    store,
    farm,
    history,
    told: () => toldLive(farm, nucId),
    stop() {
      farm.stop();
      events.close();
      store.close();
    },
  };
}

/** Minute by minute, as the server's own timers go. */
function live(store: Store, farm: Farm, history: SimulatedHistory, setNow: (atMs: number) => void): void {
  const { nucId, readings, log, splitMs, endMs } = history;
  let read = 0;
  let written = 0;
  for (let nowMs = splitMs - leadMs; nowMs <= endMs; nowMs += minuteMs) {
    setNow(nowMs);
    const from = read;
    while ((readings[read]?.observedAtMs ?? Infinity) <= nowMs) read += 1;
    const batch = { readings: readings.slice(from, read), quarantined: [], lastKnown: [] };
    if (read > from) farm.watch.readingsCame(store.ingest.commit(batch), nowMs);
    if (assignSimulated(store, history)) farm.watch.setupChanged(nowMs);
    const first = written;
    while ((log[written]?.writtenAtMs ?? Infinity) <= nowMs) written += 1;
    if (written > first) {
      store.introductions.append(log.slice(first, written));
      farm.watch.logChanged(nucId);
    }
    farm.watch.work(nowMs);
    farm.watch.tick(nowMs);
  }
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
