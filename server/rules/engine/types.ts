/**
 * What a rule is given and what it answers. A rule evaluates one subject at one instant; it keeps
 * nothing between two evaluations. Holding, raising and clearing are the life cycle's business.
 */
import type { Figure, FigureUnit, Phrase, Sentence } from '../../words/phrase.ts';

/** When the keeper has to act. */
export const urgencies = ['now', 'today', 'next-visit'] as const;
export type Urgency = (typeof urgencies)[number];

/** Where a sensor stands. */
export type Place = 'scale' | 'brood' | 'cage' | 'outside' | 'rain' | 'humidity' | 'battery';

export type SubjectKind = 'nuc' | 'site' | 'device' | 'channel' | 'server';

/**
 * What a finding is about. A device and a channel name the nuc and site where they stand, and a channel its place, for
 * suppression; a device that serves several nucs names none of them.
 */
export interface Subject {
  readonly kind: SubjectKind;
  readonly id: string;
  readonly name: string;
  readonly siteId?: string;
  readonly siteName?: string;
  readonly nucId?: string;
  /** A device that serves several nucs: all of them. */
  readonly nucIds?: readonly string[];
  readonly place?: Place;
}

/**
 * One thing a rule looked at: its value, what it was held against, and whether that condition of the
 * finding is met; `met` is null where there is no value. Text stands where a number says nothing.
 */
export interface Condition {
  readonly name: string;
  readonly value: number | Sentence | null;
  readonly limit: number | Sentence | null;
  readonly unit: FigureUnit;
  readonly met: boolean | null;
}

export interface NamedFigure extends Figure {
  readonly name: string;
}

/** In the order in which a keeper reads it. */
export interface AlertMessage {
  readonly todo: Phrase;
  readonly byMs?: number;
  /** When what is foreseen has come or not: from then on the alert is over, or says the next moment. */
  readonly untilMs?: number;
  readonly seen: Phrase;
  /** Why that matters at this stage. */
  readonly why: Phrase;
  readonly howSure: Phrase;
  /** Which look in the hive would settle it. */
  readonly settleBy?: Phrase;
  readonly facts: readonly NamedFigure[];
}

/** Where the evidence lies, for the small chart: a place of the nuc, or a channel. */
export interface Evidence {
  readonly place?: Place;
  readonly channelId?: number;
  readonly fromMs: number;
  readonly toMs: number;
  /** Drawn across the chart, in the place's unit. */
  readonly limit?: number;
}

export type Verdict = 'yes' | 'no' | 'no-data' | 'not-applicable';

export interface Evaluation {
  readonly verdict: Verdict;
  /** With `no`: also past the second, easier limit, so that a raised alert may clear. */
  readonly clear: boolean;
  readonly conditions: readonly Condition[];
  /** Why there is no answer, for `no-data` and `not-applicable`. */
  readonly because?: Sentence;
  /** Present when the verdict is yes; with `no` what an alert says that was raised before, as what it foresaw has come. */
  readonly message?: AlertMessage;
  readonly evidence?: Evidence;
  /** Where this finding is more or less pressing than the rule's standard. */
  readonly urgency?: Urgency;
}
