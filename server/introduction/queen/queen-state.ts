/** Where a queen is, and what moves her: freed, taken out, dead, another one in her place. */
import { eggsSeenAfterDays, highEnd } from '../../biology/figures.ts';
import { startOfDayAfter } from '../calendar.ts';

export interface QueenState {
  readonly queenId: string | null;
  readonly where:
    | 'not-here'
    | 'arrived'
    | 'in-cage'
    | 'released'
    | 'seen-loose'
    | 'taken-out'
    | 'dead'
    | 'gone';
  readonly arrivedAtMs: number | null;
  /** Where she comes from; null where nobody said. */
  readonly origin: 'own' | 'same-country' | 'abroad' | null;
  /** Days in her cage before she came; null where nobody said. */
  readonly daysInPost: number | null;
  readonly cageHungAtMs: number | null;
  /** Another queen was hung beside her, and neither cage is logged as taken out. */
  readonly besideAnother: boolean;
  /** Another one that came while she hangs: she takes her place where she dies. */
  readonly spare: Arrival | null;
  /** She is in a cage in the nuc since then; null when she is not. */
  readonly inCageSinceMs: number | null;
  /** The candy end was opened, or the mesh lifted from over her. */
  readonly releasedAtMs: number | null;
  /** First look that found her cage empty since her way out was opened. */
  readonly cageEmptyAtMs: number | null;
  /** Last look at the cage that saw her in it though her way out was open. */
  readonly stillInCageAtMs: number | null;
  /** The last look saw eggs, and her cage not empty though its end was opened days before: hers, or another queen's. */
  readonly eggsBesideCageAtMs: number | null;
  readonly lastSeenAtMs: number | null;
  /** Last look for her, since she was hung. */
  readonly lastLookedAtMs: number | null;
  readonly firstEggsAtMs: number | null;
  readonly sealedWorkerBroodAtMs: number | null;
  readonly deadAtMs: number | null;
  /** Looks that did not find a queen that was let out, nor her eggs, since she or they were last seen. */
  readonly notFoundAtMs: readonly number[];
  /** An earlier queen was let out, and nothing shows that she is gone. */
  readonly earlierMayBeOut: boolean;
  /** When the last of those was let out; null without any. */
  readonly earlierOutSinceMs: number | null;
  /** She is out, and nobody let her out. */
  readonly outByAccident: boolean;
  /** In these times a queen that was brought could lay in the nuc, free or under mesh; ends open while one can. */
  readonly couldLay: readonly TimeOut[];
  /** Inspections that met a queen that had been let out: they saw no stranger. */
  readonly metAtMs: readonly number[];
}

export interface Arrival extends Pick<QueenState, 'origin' | 'daysInPost'> {
  readonly queenId: string;
  readonly atMs: number;
}

export interface TimeOut {
  readonly fromMs: number;
  readonly untilMs: number | null;
  /** From when on she is thought to have been free, or under mesh; absent while it lasts. */
  readonly freeFromMs?: number;
}

export const nowhere: QueenState = {
  queenId: null,
  where: 'not-here',
  arrivedAtMs: null,
  origin: null,
  daysInPost: null,
  cageHungAtMs: null,
  besideAnother: false,
  spare: null,
  inCageSinceMs: null,
  releasedAtMs: null,
  cageEmptyAtMs: null,
  stillInCageAtMs: null,
  eggsBesideCageAtMs: null,
  lastSeenAtMs: null,
  lastLookedAtMs: null,
  firstEggsAtMs: null,
  sealedWorkerBroodAtMs: null,
  deadAtMs: null,
  notFoundAtMs: [],
  earlierMayBeOut: false,
  earlierOutSinceMs: null,
  outByAccident: false,
  couldLay: [],
  metAtMs: [],
};

/** Let out, and neither dead, taken away nor shown to be gone. */
export const mayBeOut = ({ where, releasedAtMs }: QueenState): boolean =>
  releasedAtMs !== null && (where === 'released' || where === 'seen-loose');

/** She was let out, and not found dead since: while she may be there nothing is made ready for another. */
export const letOutAlive = ({ where, releasedAtMs }: QueenState): boolean =>
  releasedAtMs !== null && where !== 'dead';

/** A look so long after she was let out saw no egg of hers: she is failing, or is not there. */
export function noEggsForTwoWeeks({
  queen: { releasedAtMs, firstEggsAtMs, lastLookedAtMs, where },
  setup,
}: {
  readonly queen: QueenState;
  readonly setup: { readonly timeZone: string };
}): boolean {
  if (releasedAtMs === null || lastLookedAtMs === null || firstEggsAtMs !== null || where === 'in-cage')
    return false;
  return lastLookedAtMs >= startOfDayAfter(releasedAtMs, highEnd(eggsSeenAfterDays), setup.timeZone);
}

/** One was seen walking free, and by the log none was let out. */
export const strangerSeen = ({ where, releasedAtMs }: QueenState): boolean =>
  where === 'seen-loose' && releasedAtMs === null;

/** A queen that was seen though none was let out is not the one that was brought. */
export const strangerTaken = (queen: QueenState): QueenState =>
  strangerSeen(queen) ? { ...queen, where: queen.arrivedAtMs === null ? 'not-here' : 'arrived' } : queen;

export const inHand = ({ where }: QueenState): boolean => where === 'arrived' || where === 'taken-out';

/** What stays of the queens before when another one comes: the first may be out still. */
export function another(queen: QueenState, queenId: string): QueenState {
  const letOut = mayBeOut(queen) && queen.queenId !== queenId;
  const earlierMayBeOut = queen.earlierMayBeOut || letOut;
  const earlierOutSinceMs = letOut ? queen.releasedAtMs : queen.earlierOutSinceMs;
  const { couldLay, metAtMs } = queen;
  return {
    ...nowhere,
    couldLay,
    metAtMs,
    earlierMayBeOut,
    earlierOutSinceMs,
    notFoundAtMs: earlierMayBeOut ? queen.notFoundAtMs : [],
  };
}

/**
 * Her way out is open. Of one that was found in her cage days after that the days outside begin now. Looks that missed one
 * before her say nothing of her.
 */
export const released = (queen: QueenState, atMs: number): QueenState => ({
  ...queen,
  where: 'released',
  inCageSinceMs: null,
  notFoundAtMs: queen.releasedAtMs === null ? [] : queen.notFoundAtMs,
  releasedAtMs: queen.where === 'in-cage' ? atMs : (queen.releasedAtMs ?? atMs),
});

/** In the keeper's hand again, to be hung anew. */
export const takenOut = (queen: QueenState, atMs: number): QueenState => ({
  ...queen,
  where: 'taken-out',
  inCageSinceMs: null,
  releasedAtMs: null,
  cageEmptyAtMs: null,
  stillInCageAtMs: null,
  eggsBesideCageAtMs: null,
  // What was seen of her brood says nothing of the next time.
  firstEggsAtMs: null,
  sealedWorkerBroodAtMs: null,
  // Looks that missed an earlier queen are about that one.
  notFoundAtMs: queen.earlierMayBeOut ? queen.notFoundAtMs : [],
  lastSeenAtMs: atMs,
});

/** One who came to her keeper's hand. */
export const cameToHand = (
  queen: QueenState,
  { queenId, atMs, origin, daysInPost }: Arrival,
): QueenState => ({
  ...another(queen, queenId),
  queenId,
  where: 'arrived',
  arrivedAtMs: atMs,
  origin,
  daysInPost,
  lastSeenAtMs: atMs,
});

/** Of two that hang one is left; and one that came meanwhile is at hand. */
export function dead(queen: QueenState, atMs: number): QueenState {
  if (queen.besideAnother) return { ...queen, besideAnother: false };
  const died: QueenState = { ...queen, where: 'dead', inCageSinceMs: null, deadAtMs: atMs };
  return queen.spare ? cameToHand(died, queen.spare) : died;
}
