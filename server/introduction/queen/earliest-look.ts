/** When a nuc may be opened at the earliest after the queen was let out. */
import { handsOffDays, lowEnd } from '../../biology/figures.ts';
import { addDays, startOfDayAfter } from '../calendar.ts';
import { candyGoneMs } from './candy.ts';
import { ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import type { IntroductionMethod } from '../log/facts.ts';
import type { QueenState } from './queen-state.ts';
import type { IntroductionSetup } from '../log/setup.ts';

type Release = Pick<QueenState, 'outByAccident' | 'cageEmptyAtMs' | 'stillInCageAtMs'> & {
  readonly releasedAtMs: number;
};

/**
 * The instant from which her days outside are counted: the bees take their time through the candy, unless the cage was
 * seen empty before, or she in it after; mesh and accident take none.
 */
function outByMs(
  { releasedAtMs, outByAccident, cageEmptyAtMs, stillInCageAtMs }: Release,
  method: IntroductionMethod,
): number {
  if (method === 'push-in-cage' || outByAccident) return releasedAtMs;
  return cageEmptyAtMs === null
    ? Math.max(candyGoneMs(releasedAtMs), stillInCageAtMs ?? -Infinity)
    : Math.min(candyGoneMs(releasedAtMs), cageEmptyAtMs);
}

export interface EarliestLook {
  /** Before this a look can get her killed. */
  readonly leastMs: number;
  /** Where nothing is wrong it waits for this. */
  readonly betterMs: number;
}

/** Both from the release; full days of the site's calendar after she is out at the latest. */
export function earliestLook(release: Release, method: IntroductionMethod, timeZone: string): EarliestLook {
  const leastMs = addDays(outByMs(release, method), lowEnd(handsOffDays), timeZone);
  const weekMs = startOfDayAfter(release.releasedAtMs, handsOffDays.value, timeZone);
  return { leastMs, betterMs: Math.max(leastMs, weekMs) };
}

/** Seen in her cage after the days that the bees have for the candy, and nobody cleared her way since. */
export function heldInCage({
  queen,
  setup,
  facts,
  nowMs,
}: {
  readonly queen: QueenState;
  readonly setup: IntroductionSetup;
  readonly facts: readonly EffectiveFact[];
  readonly nowMs: number;
}): boolean {
  const { where, releasedAtMs, stillInCageAtMs, cageEmptyAtMs } = queen;
  if (where !== 'released' || releasedAtMs === null || stillInCageAtMs === null || cageEmptyAtMs !== null)
    return false;
  const cleared = ofKind(facts, 'candy-opened').some(({ atMs }) => atMs >= stillInCageAtMs);
  const { leastMs } = earliestLook({ ...queen, releasedAtMs }, setup.method, setup.timeZone);
  return (
    setup.method === 'candy-cage' &&
    stillInCageAtMs >= candyGoneMs(releasedAtMs) &&
    !cleared &&
    nowMs < leastMs
  );
}

/** From when on a queen may be looked for that was let out before the one that is awaited now; -Infinity where nobody logged when. */
export function earliestLookForEarlier(queen: QueenState, setup: IntroductionSetup): number {
  const { earlierOutSinceMs: releasedAtMs } = queen;
  if (releasedAtMs === null) return -Infinity;
  const release = { releasedAtMs, outByAccident: false, cageEmptyAtMs: null, stillInCageAtMs: null };
  return earliestLook(release, setup.method, setup.timeZone).leastMs;
}
