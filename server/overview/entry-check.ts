/** Holds a new entry of the field log against what is there: the introduction's own check, with the store's facts. */
import type { EntryCheck } from '../http/deps.ts';
import { checkNewEntry } from '../introduction/log-check.ts';
import type { Store } from '../store/store.ts';
import { setupOf } from './setup-of.ts';

export const entryCheck =
  (store: Store): EntryCheck =>
  (entry, introduction, log, nowMs) => {
    const hive = store.places.hive(introduction.nucId);
    const timeZone = (hive && store.places.site(hive.siteId)?.timeZone) ?? 'UTC';
    const check = checkNewEntry(setupOf(store, introduction, timeZone), log, entry, nowMs);
    return check.ok ? [] : check.problems.map(({ text }) => text);
  };
