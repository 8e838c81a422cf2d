/** What brood should be in the nuc at an instant: what its temperature is judged by. */
import { developmentMs } from '../../biology/duration.ts';
import { workerSealedDays, eggsAfterReleaseDays } from '../../biology/figures.ts';
import { mayBeOut, type QueenState } from '../queen/queen-state.ts';
import type { Windows } from './windows.ts';

export type ExpectedBrood = 'open-brood' | 'sealed-brood' | 'broodless' | 'new-brood-expected' | 'unknown';

export interface BroodNow {
  readonly brood: ExpectedBrood;
  readonly why: string;
  /** Until when it stays so, as far as the calendar says; null where only a look can tell. */
  readonly untilMs: number | null;
}

/** Eggs follow within days of the queen's release; her larvae and the warmth they ask for a little later. */
const newBroodAfter = developmentMs(eggsAfterReleaseDays.value);

export function broodNow(windows: Windows, queen: QueenState, nowMs: number): BroodNow {
  const { openBroodUntilMs: openUntil, sealedBroodUntilMs: sealedUntil } = windows;
  const sheIsThere = mayBeOut(queen);
  // What a queen leaves that is gone since is in the windows.
  if (sheIsThere && queen.firstEggsAtMs !== null && nowMs >= queen.firstEggsAtMs) {
    return { brood: 'open-brood', why: 'the new queen’s eggs were seen', untilMs: null };
  }
  if (openUntil === null || sealedUntil === null) {
    return { brood: 'unknown', why: 'the last egg of the old queen is not known', untilMs: null };
  }
  if (nowMs < openUntil) {
    return { brood: 'open-brood', why: 'larvae of the old queen are not all sealed', untilMs: openUntil };
  }
  if (nowMs < sealedUntil) {
    return {
      brood: 'sealed-brood',
      why: 'brood of the old queen is sealed, not yet all emerged',
      untilMs: sealedUntil,
    };
  }
  const { releasedAtMs } = queen;
  const newBroodMs = sheIsThere && releasedAtMs !== null ? releasedAtMs + newBroodAfter : Infinity;
  if (nowMs >= newBroodMs) {
    return {
      brood: 'new-brood-expected',
      why: 'the new queen should be laying by now',
      untilMs: newBroodMs + developmentMs(workerSealedDays.value),
    };
  }
  return {
    brood: 'broodless',
    why: 'the last of the old brood has emerged',
    untilMs: newBroodMs === Infinity ? null : newBroodMs,
  };
}
