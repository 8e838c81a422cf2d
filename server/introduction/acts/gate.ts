/** What a gate says, and what it may look at besides the log. */
import type { Sentence } from '../../words/phrase.ts';
import type { Reason } from './condition.ts';

export const gateNames = ['cut-cells', 'hang-cage', 'open-candy', 'look-for-queen'] as const;
export type GateName = (typeof gateNames)[number];

/** What one more complete look would bring when it finds nothing, and when to make it. */
export interface OneMoreLook {
  readonly fromMs: number;
  readonly untilMs: number | null;
  readonly chanceNow: number;
  readonly chanceIfNothingFound: number;
  /** Chance that it finds a living cell. */
  readonly chanceOfFinding: number;
}

export interface Gate {
  readonly gate: GateName;
  /** `stop`: something is wrong that waiting does not mend. */
  readonly answer: 'go' | 'wait' | 'stop';
  /** With `wait`: when the answer may change by itself. */
  readonly untilMs?: number;
  readonly headline: string;
  /** What decided first, then everything that was looked at. */
  readonly reasons: readonly Reason[];
  readonly oneMoreLook?: OneMoreLook;
  /** Chance that a dangerous cell was missed by all looks so far, where two late looks were made. */
  readonly chanceOfStandingCell?: number;
  /** Chance that workers lay, once they may. */
  readonly chanceOfLayingWorkers?: number;
  readonly overridden?: { readonly atMs: number; readonly reason: string; readonly by?: string };
}

/** What sensors and settings say, as plain data: this room knows no signals. */
export interface GateEvidence {
  readonly foragersGone: {
    readonly answer: 'yes' | 'no' | 'cannot-tell';
    readonly text: Sentence;
  };
  readonly flyingDays?: number;
  /** The coldest that is expected at the brood or the cage in the night ahead. */
  readonly outlook?: { readonly text: Sentence; readonly tooCold: boolean | 'unknown' };
  readonly strength?: { readonly text: Sentence; readonly enough: boolean | 'unknown' };
  readonly weather?: { readonly text: Sentence; readonly fitToOpen: boolean | 'unknown' };
  /** Something that asks for a look before its day: bees left in a mass. */
  readonly trouble?: Sentence;
  /** The scale lost its bees or its box then: somebody looks before a queen is given or let out. */
  readonly lookFirst?: { readonly sinceMs: number; readonly headline: string; readonly text: Sentence };
  /** Robbers are at it: an open box makes it worse. */
  readonly robbing?: Sentence;
  /** Chance of a standing cell above which one more look is asked for; 0.05 where absent. Null: it can't be read. */
  readonly chanceLimit?: number | null;
}

export const noEvidence: GateEvidence = {
  foragersGone: { answer: 'cannot-tell', text: 'No scale tells whether the foragers have gone.' },
};
