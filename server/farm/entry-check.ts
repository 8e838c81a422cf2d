/** Holds a new entry of the field log against what is there: the introduction's own check, with the store's facts. */
import type { LogEntry } from '../introduction/log/facts.ts';
import { checkNewEntry } from '../introduction/log/log-check.ts';
import type { Introduction } from '../store/field-log/introductions.ts';
import type { Store } from '../store/store.ts';
import { setupOf } from './setup-of.ts';

/**
 * What keeps a new entry out of the field log, one sentence each; empty where nothing does.
 * @param log the entries of its introduction before it
 */
export type EntryCheck = (
  entry: LogEntry,
  introduction: Introduction,
  log: readonly LogEntry[],
  nowMs: number,
) => readonly string[];

export const entryCheck =
  (store: Store): EntryCheck =>
  (entry, introduction, log, nowMs) => {
    const hive = store.places.hive(introduction.nucId);
    const timeZone = (hive && store.places.site(hive.siteId)?.timeZone) ?? 'UTC';
    const check = checkNewEntry(setupOf(store, introduction, timeZone), log, entry, nowMs);
    return check.ok ? [] : check.problems.map(({ text }) => text);
  };
