/** What a replay of stored history finds is what the watch raised when it happened. */
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createEventsHub } from '../../server/http/events-hub.ts';
import { createFarm, type Farm } from '../../server/overview/farm.ts';
import { replayNuc } from '../../server/overview/replay-nuc.ts';
import { episodeOf, isOpen } from '../../server/rules/alert-state.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { scenarios } from '../../simulator/scenarios.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { assignSimulated, foundSimulated, type SimulatedHistory } from '../support/simulated-history.ts';
import { base } from '../scenarios/expectations.ts';

const minuteMs = 60_000;
/** Before the split. */
const leadMs = 4 * 60 * minuteMs;
const nucId = 'cold-nuc';

interface Told {
  readonly ruleId: string;
  readonly raisedAt: string;
  readonly clearedAt: string | null;
  readonly urgency: string;
}

const byInstant = (a: Told, b: Told): number =>
  a.raisedAt.localeCompare(b.raisedAt) || a.ruleId.localeCompare(b.ruleId);
const iso = (atMs: number): string => new Date(atMs).toISOString();

/** Minute by minute, as the server's own timers go. */
function live(store: Store, farm: Farm, history: SimulatedHistory, setNow: (atMs: number) => void): void {
  const { readings, log, splitMs, endMs } = history;
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

function raisedLive(farm: Farm, fromMs: number): Told[] {
  const open = [...farm.watch.book.alerts.values()].filter(isOpen).flatMap((alert) => {
    const episode = episodeOf(alert);
    return episode ? [{ ruleId: alert.ruleId, subject: alert.subject, episode, endedAtMs: null }] : [];
  });
  return [...open, ...farm.watch.book.ended(0, 10_000)]
    .filter(({ subject, episode }) => subject.kind === 'nuc' && episode.raisedAtMs >= fromMs)
    .map(({ ruleId, episode, endedAtMs }) => ({
      ruleId,
      raisedAt: iso(episode.raisedAtMs),
      clearedAt: endedAtMs === null ? null : iso(endedAtMs),
      urgency: episode.urgency.replace('-', ' '),
    }))
    .sort(byInstant);
}

describe('a replay of what was watched live', () => {
  const folder = newFolder();
  const events = createEventsHub();
  let nowMs = base.splitMs - leadMs;
  let store: Store;
  let farm: Farm;
  let history: SimulatedHistory;

  beforeAll(() => {
    store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs });
    const onError = (error: unknown): void => {
      throw error;
    };
    farm = createFarm({ store, events, clock: () => nowMs, startedAtMs: nowMs, onError });
    // A weak nuc in cold weather: told of the cold night after night, and of its visits.
    const { place, splitMs, everyMinutes, parameters } = base;
    const { ranges } = scenarios['cold-snap'];
    const fixed = Object.entries(parameters).filter(([name]) => !Object.hasOwn(ranges, name));
    history = foundSimulated(store, nucId, {
      ...{ place, splitMs, everyMinutes, days: 3, seed: 1, scenario: 'cold-snap' },
      parameters: Object.fromEntries(fixed),
    });
    live(store, farm, history, (atMs) => {
      nowMs = atMs;
    });
  }, 120_000);
  afterAll(() => {
    farm.stop();
    events.close();
    store.close();
    dropFolder(folder);
  });

  const replayed = () =>
    replayNuc(
      { store, book: farm.watch.book },
      { nucId, from: iso(history.splitMs - leadMs), to: iso(history.endMs), limits: {} },
    );

  it('finds the same alerts, raised and over at the same minute, with the same urgency', () => {
    const told = raisedLive(farm, 0);
    expect(told.filter(({ ruleId }) => ruleId === 'brood-chilling').length).toBeGreaterThanOrEqual(2);
    expect(told.some(({ clearedAt }) => clearedAt !== null)).toBe(true);
    const answer = replayed();
    const found = (answer?.items ?? []).map(({ ruleId, raisedAt, clearedAt, text }) => ({
      ruleId,
      raisedAt,
      clearedAt,
      urgency: text.replace(', and it was raised', ''),
    }));
    expect(found.sort(byInstant)).toEqual(told);
    expect(answer?.onlyReally).toEqual([]);
  });

  it('gives the same twice, with far fewer looks than there were minutes', () => {
    const first = replayed();
    expect(replayed()).toEqual(first);
    expect(first?.ticks).toBeLessThan((3 * 1440) / 6);
  });
});
