/** The parent colony around the move of its nuc: what its scale, if it has one, shows of the foragers that flew home. */
import { dayMs, hourMs } from '../durations.ts';
import { analyseNuc } from '../signals/analyse.ts';
import { driftWindowMs } from '../signals/drift/drift-input.ts';
import type { NucSignals } from '../signals/types.ts';
import type { Store } from '../store/store.ts';
import { visitEvents } from './known-events.ts';
import { placeSeries, readNucSeries } from './nuc-series.ts';

/** Setting: nights before the move that its weight is read from. */
const beforeMs = 3 * dayMs;
/** Setting: a drift of so long ago is asked after by nobody. */
const shownMs = 2 * driftWindowMs;

export interface ParentAround {
  readonly name: string;
  readonly moveMs: number;
  readonly signals: NucSignals;
}

/** Undefined where it is not on this farm, has no scale, or the move was long ago. */
export function parentAround(
  store: Store,
  parentId: string,
  moveMs: number,
  nowMs: number,
): ParentAround | undefined {
  const hive = store.places.hive(parentId);
  const site = hive && store.places.site(hive.siteId);
  if (!site || nowMs > moveMs + shownMs) return undefined;
  const fromMs = moveMs - beforeMs;
  const toMs = Math.min(nowMs, moveMs + driftWindowMs);
  if (!placeSeries(store, hive, 'scale', fromMs, toMs)) return undefined;
  const signals = analyseNuc(
    {
      series: readNucSeries(store, hive, fromMs, toMs + 1),
      place: site,
      events: visitEvents(store.hiveVisits.ofHive(hive.id), toMs),
      broodRegime: () => 'unknown',
    },
    toMs,
  );
  return { name: hive.name, moveMs, signals };
}

export type ParentAt = (parentId: string, moveMs: number, nowMs: number) => ParentAround | undefined;

/** The same, read anew with each full hour: an open page asks with every reading, and a night’s weight changes once a day. */
export function parentByHour(store: Store): ParentAt {
  const known = new Map<string, ParentAround | undefined>();
  let hour = -Infinity;
  return (parentId, moveMs, nowMs) => {
    const hourNow = Math.floor(nowMs / hourMs);
    if (hourNow !== hour) known.clear();
    hour = hourNow;
    const key = `${parentId} ${String(moveMs)}`;
    if (!known.has(key)) known.set(key, parentAround(store, parentId, moveMs, nowMs));
    return known.get(key);
  };
}
