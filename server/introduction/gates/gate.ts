/** What a gate says, and what it may look at besides the log. */
import type { Figure } from '../../biology/figures.ts';
import type { Sentence } from '../../words/phrase.ts';

export type GateName = 'cut-cells' | 'hang-cage' | 'open-candy' | 'look-for-queen';

export interface Reason {
  /** `unknown`: nobody looked, or no sensor can tell. */
  readonly ok: boolean | 'unknown';
  readonly text: Sentence;
  readonly figure?: {
    readonly name: string;
    readonly value: number;
    readonly unit: string;
    readonly source: string;
  };
}

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
  readonly overridden?: { readonly atMs: number; readonly reason: string; readonly by?: string };
}

/** What sensors and settings say, as plain data: this room knows no signals. */
export interface GateEvidence {
  readonly foragersGone: {
    readonly answer: 'yes' | 'nearly' | 'no' | 'cannot-tell';
    readonly text: Sentence;
  };
  readonly flyingDays?: number;
  /** The coldest that is expected at the brood or the cage in the night ahead. */
  readonly outlook?: { readonly text: Sentence; readonly tooCold: boolean | 'unknown' };
  readonly strength?: { readonly text: Sentence; readonly enough: boolean | 'unknown' };
  readonly weather?: { readonly text: Sentence; readonly fitToOpen: boolean | 'unknown' };
  /** Something that asks for a look before its day: bees left in a mass, robbing. */
  readonly trouble?: Sentence;
  /** Chance of a standing cell above which one more look is asked for; 0.05 where absent. Null: it can't be read. */
  readonly chanceLimit?: number | null;
}

export const noEvidence: GateEvidence = {
  foragersGone: { answer: 'cannot-tell', text: 'No scale tells whether the foragers have gone.' },
};

export const cite = (name: string, { value, unit, source }: Figure): NonNullable<Reason['figure']> => ({
  name,
  value,
  unit,
  source,
});

/** A condition that bars the gate while it does not hold. */
export interface Bar {
  readonly reason: Reason;
  /** Absent where the condition holds. */
  readonly bars?: { readonly answer: 'wait' | 'stop'; readonly headline: string; readonly untilMs?: number };
}

export const holds = (text: Sentence, figure?: Reason['figure']): Bar => ({
  reason: { ok: true, text, ...(figure ? { figure } : {}) },
});

export const notKnown = (text: Sentence): Bar => ({ reason: { ok: 'unknown', text } });

export const stops = (headline: string, text: Sentence, figure?: Reason['figure']): Bar => ({
  reason: { ok: false, text, ...(figure ? { figure } : {}) },
  bars: { answer: 'stop', headline },
});

export const waits = (
  headline: string,
  text: Sentence,
  untilMs?: number,
  figure?: Reason['figure'],
): Bar => ({
  reason: { ok: false, text, ...(figure ? { figure } : {}) },
  bars: { answer: 'wait', headline, ...(untilMs === undefined ? {} : { untilMs }) },
});

/**
 * One answer from all conditions: any stop stops; else any wait waits, until the latest of its instants,
 * or without one where a condition that only a visit can mend is among them. What decided comes first.
 */
export function decide(gate: GateName, bars: readonly Bar[], goHeadline: string): Gate {
  const reasons = bars.map((bar) => bar.reason);
  const barred = bars.filter((bar) => bar.bars !== undefined);
  const stop = barred.find((bar) => bar.bars?.answer === 'stop');
  const undated = barred.find((bar) => bar.bars?.untilMs === undefined);
  const latest = barred.toSorted((a, b) => (b.bars?.untilMs ?? 0) - (a.bars?.untilMs ?? 0))[0];
  const leading = stop ?? undated ?? latest;
  if (!leading?.bars) return { gate, answer: 'go', headline: goHeadline, reasons };
  const { answer, headline, untilMs } = leading.bars;
  return {
    gate,
    answer,
    headline,
    ...(untilMs === undefined ? {} : { untilMs }),
    reasons: [leading.reason, ...reasons.filter((reason) => reason !== leading.reason)],
  };
}
