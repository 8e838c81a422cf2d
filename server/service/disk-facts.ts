/** The disk as the rules about the server see it. */
import type { Store } from '../store/store.ts';

/** Both null while the store takes readings. */
export interface StoreRefusing {
  readonly storeRefusingSinceMs: number | null;
  /** What the store says about it, one or two sentences. */
  readonly storeRefusingWhy: string | null;
}

const megabyte = 1_000_000;

/** Null where the store can’t say how much room is left, and takes readings. */
export function diskFacts(store: Store, refusing: StoreRefusing) {
  const { storeRefusingSinceMs: refusingSinceMs, storeRefusingWhy: refusingWhy } = refusing;
  try {
    const { freeBytes, writtenTodayBytes } = store.diagnostics();
    if (freeBytes !== null) {
      const writtenPerDayMB = writtenTodayBytes === null ? null : writtenTodayBytes / megabyte;
      return { freeMB: freeBytes / megabyte, writtenPerDayMB, refusingSinceMs, refusingWhy };
    }
  } catch {
    // A store that can't even be asked is one that refuses.
  }
  return refusingSinceMs === null ? null : { freeMB: 0, writtenPerDayMB: null, refusingSinceMs, refusingWhy };
}
