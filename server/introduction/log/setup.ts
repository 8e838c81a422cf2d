/** What is fixed when an introduction is opened, apart from its log. */
import type { IntroductionMethod, StartingPoint } from './facts.ts';
import type { Signs } from './signs.ts';

/** An instant that evidence bounds on both sides; null where it sets no bound. */
export interface Interval {
  readonly earliestMs: number | null;
  readonly latestMs: number | null;
  /** In words, what the bounds rest on. */
  readonly restsOn: readonly string[];
}

/** What an earlier introduction in the same nuc leaves behind for the next (`carry-over.ts`). */
export interface CarriedEvidence {
  readonly lastFertileEgg: Interval;
  readonly queenlessSince: Interval;
  /** The queen before was let out, and nothing shows that she is gone. */
  readonly queenMayBeOut?: boolean;
  /** Signs of laying workers or brood disease, and a balling, stand for the next queen too. */
  readonly signs?: Pick<Signs, 'layingWorkers' | 'balledAtMs' | 'diseaseAtMs'>;
}

/** Beta prior on the share of standing cells that a complete look on this farm misses. */
export interface MissRate {
  readonly alpha: number;
  readonly beta: number;
  /** Earlier nucs that it was learnt from. */
  readonly learntFrom?: number;
}

export interface IntroductionSetup {
  readonly id: string;
  readonly nucId: string;
  readonly startingPoint: StartingPoint;
  readonly method: IntroductionMethod;
  /** IANA zone of the site. */
  readonly timeZone: string;
  readonly openedAtMs: number;
  readonly plannedSplitMs?: number;
  readonly queenId?: string;
  /** When the queen is expected by post. */
  readonly expectedQueenMs?: number;
  /** Her delivery is marked as arrived: she is not waited for, logged for this nuc or not. */
  readonly deliveryIsHere?: true;
  readonly carried?: CarriedEvidence;
  /** The farm's own, where its earlier looks tell (`miss-rate.ts`); a wide prior where absent. */
  readonly missRate?: MissRate;
}
