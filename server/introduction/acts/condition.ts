/** Conditions of an act, and the one permission that they make. */
import type { Figure } from '../../biology/figures.ts';
import type { Sentence } from '../../words/phrase.ts';
import type { ActKind } from './draft.ts';

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

export const cite = (name: string, { value, unit, source }: Figure): NonNullable<Reason['figure']> => ({
  name,
  value,
  unit,
  source,
});

/**
 * What meets a condition that is not met: time; another act, perhaps from an instant on (with `untilMs` the answer is
 * dated by it); or nothing in this log: a new introduction, a setting that can't be read.
 */
export type MetBy =
  | { readonly untilMs: number }
  | { readonly first: ActKind; readonly fromMs?: number; readonly untilMs?: number }
  | { readonly newIntroduction: true }
  | { readonly setting: string };

export interface Condition {
  readonly reason: Reason;
  /** Absent where it is met, or where nobody can tell and nothing rests on it. */
  readonly unmet?: {
    /** `stop`: something is wrong that waiting does not mend. */
    readonly answer: 'wait' | 'stop';
    readonly headline: string;
    readonly metBy: MetBy;
    /** Since when the act that meets it is wanted; absent where nobody can date that. */
    readonly sinceMs?: number;
  };
}

type FigureCited = Reason['figure'];
const reasonOf = (ok: Reason['ok'], text: Sentence, figure: FigureCited): Reason => ({
  ok,
  text,
  ...(figure ? { figure } : {}),
});

export const met = (text: Sentence, figure?: FigureCited): Condition => ({
  reason: reasonOf(true, text, figure),
});

export const unknown = (text: Sentence, figure?: FigureCited): Condition => ({
  reason: reasonOf('unknown', text, figure),
});

/** Said as a fault, and no bar. */
export const faulty = (text: Sentence, figure?: FigureCited): Condition => ({
  reason: reasonOf(false, text, figure),
});

export const pending = (headline: string, text: Sentence, metBy: MetBy, figure?: FigureCited): Condition => ({
  reason: reasonOf(false, text, figure),
  unmet: { answer: 'wait', headline, metBy },
});

export const blocked = (headline: string, text: Sentence, metBy: MetBy, figure?: FigureCited): Condition => ({
  reason: reasonOf(false, text, figure),
  unmet: { answer: 'stop', headline, metBy },
});

/** What meets it is wanted since then. */
export const since = (sinceMs: number, condition: Condition): Condition =>
  condition.unmet && Number.isFinite(sinceMs)
    ? { ...condition, unmet: { ...condition.unmet, sinceMs } }
    : condition;

/** May it be done? With `wait`, `untilMs` is when that may change by itself; `first` are the acts that it waits for. */
export interface Permission {
  readonly answer: 'go' | 'wait' | 'stop';
  /** Null with `go`. */
  readonly headline: string | null;
  readonly untilMs?: number;
  readonly first: readonly {
    readonly kind: ActKind;
    readonly fromMs?: number;
    readonly sinceMs?: number;
    readonly because: Sentence;
  }[];
  /** What decided first, then everything that was looked at. */
  readonly reasons: readonly Reason[];
}

const untilOf = ({ unmet }: Condition): number | undefined =>
  unmet && 'untilMs' in unmet.metBy ? unmet.metBy.untilMs : undefined;

const firstOf = ({ unmet, reason }: Condition): Permission['first'] =>
  unmet && 'first' in unmet.metBy
    ? [
        {
          kind: unmet.metBy.first,
          because: reason.text,
          ...(unmet.metBy.fromMs === undefined ? {} : { fromMs: unmet.metBy.fromMs }),
          ...(unmet.sinceMs === undefined ? {} : { sinceMs: unmet.sinceMs }),
        },
      ]
    : [];

/**
 * One answer from all conditions: any stop stops; else any wait waits, until the latest of its instants, or without
 * one where a condition that only an act can meet is among them. What decided comes first.
 */
export function permissionFrom(conditions: readonly Condition[]): Permission {
  const reasons = conditions.map(({ reason }) => reason);
  const unmet = conditions.filter((condition) => condition.unmet);
  const stop = unmet.find((condition) => condition.unmet?.answer === 'stop');
  const undated = unmet.find((condition) => untilOf(condition) === undefined);
  const latest = unmet.toSorted((a, b) => (untilOf(b) ?? 0) - (untilOf(a) ?? 0))[0];
  const leading = stop ?? undated ?? latest;
  if (!leading?.unmet) return { answer: 'go', headline: null, first: [], reasons };
  const { answer, headline } = leading.unmet;
  const untilMs = untilOf(leading);
  const others = unmet.filter((condition) => condition !== leading);
  return {
    answer,
    headline,
    ...(untilMs === undefined ? {} : { untilMs }),
    first: [leading, ...others].flatMap(firstOf),
    reasons: [leading.reason, ...reasons.filter((reason) => reason !== leading.reason)],
  };
}
