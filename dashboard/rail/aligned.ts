/** Many rails on one scale: counted from the split or from the release. Pure. */
import type { NucSummary, Rail } from '../../server/contract/nucs.ts';
import type { Extent } from './frame.ts';
import { releaseDay } from './release-day.ts';
import { firstDay } from './first-day.ts';

export type Aligned = 'split' | 'release';

/** The rail's own day that lies at 0; undefined where it has none. */
export function alignedOn(one: Pick<NucSummary, 'rail'>, on: Aligned): number | undefined {
  if (!one.rail) return undefined;
  return on === 'split' ? 0 : releaseDay(one.rail);
}

export function extentOf(items: readonly Pick<NucSummary, 'rail'>[], on: Aligned): Extent {
  let fromDay = 0;
  let toDay = 14;
  for (const one of items) {
    const zero = alignedOn(one, on);
    if (!one.rail || zero === undefined) continue;
    const rail: Rail = one.rail;
    fromDay = Math.min(fromDay, firstDay(rail) - zero);
    toDay = Math.max(toDay, rail.lastDay - zero);
  }
  return { fromDay: Math.floor(fromDay), toDay: Math.ceil(toDay) };
}
