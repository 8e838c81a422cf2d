/** How the nucs stand against the others of their batch, from what was last worked out about each. */
import { isoDate } from '../introduction/calendar.ts';
import type { IntroductionState } from '../introduction/state.ts';
import { batchStandings } from '../rules/catalogue/queen/batch-standing.ts';
import type { NucInput } from '../rules/engine/inputs.ts';
import type { BroodDay } from '../signals/types.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Site } from '../store/places/sites.ts';
import { groupBy } from '../group-by.ts';
import type { NucAnalysis } from './nuc-analysis.ts';
import { hourMs } from '../durations.ts';

export type Batch = NonNullable<NucInput['batch']>;

/** Whole days are compared: as of each full hour is often enough. */
export const standingHourMs = (nowMs: number): number => Math.floor(nowMs / hourMs) * hourMs;
/** So long after midnight a day is over: what was last worked out about a nuc may be minutes old. */
export const overAfterMs = hourMs;

export interface BatchNuc {
  readonly nuc: Hive;
  readonly site: Site;
  /** Local date of its split; null before. */
  readonly dayZero: string | null;
  readonly broodDays: readonly BroodDay[];
}

export const dayZeroOf = (state: IntroductionState | null, { timeZone }: Site): string | null =>
  state?.day0Ms == null ? null : isoDate(state.day0Ms, timeZone);

export const batchNucOf = (analysis: NucAnalysis | undefined): BatchNuc | undefined =>
  analysis && {
    nuc: analysis.nuc,
    site: analysis.site,
    dayZero: dayZeroOf(analysis.state, analysis.site),
    broodDays: analysis.signals?.broodDays ?? [],
  };

/** Of every nuc that is in a batch and has begun, by its id. */
export function standings(nucs: readonly BatchNuc[], nowMs: number): ReadonlyMap<string, Batch> {
  const found = new Map<string, Batch>();
  const todayIn = new Map<string, string>();
  for (const [name, members] of groupBy(nucs, ({ nuc }) => nuc.batch)) {
    if (name === undefined) continue;
    const aligned = members.flatMap(({ nuc, site: { timeZone }, dayZero, broodDays }) => {
      if (dayZero === null) return [];
      let today = todayIn.get(timeZone);
      if (today === undefined) todayIn.set(timeZone, (today = isoDate(nowMs - overAfterMs, timeZone)));
      return [{ nucId: nuc.id, dayZero, broodDays, today }];
    });
    for (const [nucId, batch] of batchStandings(name, aligned)) found.set(nucId, batch);
  }
  return found;
}
