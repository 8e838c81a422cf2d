/** One step of a plan: a visit to make, with its window and what it needs. */
import type { Sentence } from '../../words/phrase.ts';
import type { ActKind } from './draft.ts';
import type { FactKind } from '../log/facts.ts';

export type PlanKind = ActKind;

/** Setting: due from the evening before its day on, in time to pack. */
export const dueAheadMs = 12 * 3_600_000;

export interface PlanStep {
  /** The same for the same step of the same introduction, however often it is planned again. */
  readonly id: string;
  readonly introductionId: string;
  readonly nucId: string;
  readonly kind: PlanKind;
  /** What the step is called in a list. */
  readonly label: string;
  /** The fact that logs it. */
  readonly logAs: FactKind;
  readonly earliestMs: number;
  readonly targetMs: number;
  readonly latestMs: number;
  readonly done?: { readonly atMs: number; readonly factId: string };
  /** It may be done, and nothing waits for it: never due. */
  readonly offered?: boolean;
  /** Her day went by, or none is known: so many days after she comes. Its window is that of a queen who comes today. */
  readonly afterArrivalDays?: number;
  /** What forbids it now, and the acts that settle that: never due nor overdue. */
  readonly blocked?: {
    readonly answer: 'wait' | 'stop';
    readonly by: string;
    readonly first: readonly PlanKind[];
    readonly untilMs?: number;
  };
  readonly whatToDo: string;
  readonly whatToBring: readonly string[];
  readonly why: readonly Sentence[];
  /** What can't be kept: a day on which the keeper can't come, a queen that comes too late. */
  readonly clashes: readonly string[];
}

/** No queen is missing for it: no visit of the keeper settles what forbids it. */
export const waitsForInspector = ({ blocked }: PlanStep): boolean =>
  blocked?.first.includes('call-inspector') === true;

/** What forbids an act is not settled in the visit that makes one of these. */
const settlesLater: ReadonlySet<PlanKind> = new Set([
  'call-inspector',
  'queen-arrives',
  'test-frame-in',
  'unite',
]);

/** Nothing is brought along for it: what forbids it on its day is not settled in that visit. */
export const staysBarred = ({ blocked, targetMs }: PlanStep): boolean =>
  blocked !== undefined &&
  (blocked.first.length === 0 ||
    blocked.first.some((kind) => settlesLater.has(kind)) ||
    (blocked.untilMs ?? -Infinity) > targetMs);

export interface PlanOptions {
  /** Hour of the day at which visits are planned; 10 where absent. */
  readonly visitHour?: number;
  /** Local dates YYYY-MM-DD on which nobody can come. */
  readonly unavailable?: readonly string[];
  /** Chance of a standing cell above which one more look is planned; 0.05 where absent. */
  readonly chanceLimit?: number | null;
}
