/** What one analysis takes. */
import type { BroodRegime, Forecast, KnownEvent, NucSeries, SitePlace } from './types.ts';

export interface AnalysisInput {
  readonly series: NucSeries;
  readonly place: SitePlace;
  /** Logged visits, feeds, the move; in any order. */
  readonly events: readonly KnownEvent[];
  /** When the split was stood on its own stand. */
  readonly movedAtMs?: number;
  /** It was moved too far for its foragers to fly home. */
  readonly noneFlewHome?: boolean;
  /** When the candy end was opened. */
  readonly releasedAtMs?: number;
  /** What brood there should be at an instant, from the introduction. */
  readonly broodRegime: (atMs: number) => BroodRegime;
  /** A queen is in the cage. */
  readonly queenInCage?: true;
  /** Box, floor, lid, frames and wax without bees, brood and stores. */
  readonly emptyBoxG?: number;
  readonly framesOfBees?: number;
  /** Of brood at the split, from which bees emerge. */
  readonly framesOfBrood?: { readonly sealed: number; readonly open: number };
  readonly forecast?: Forecast;
  /**
   * Earliest instant whose readings may differ from the last call with the same cache: whole days before it are
   * taken from the cache unseen. Without it each day's readings are compared by a checksum.
   */
  readonly changedFromMs?: number;
}
