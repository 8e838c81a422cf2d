/**
 * What the HTTP layer asks of the analysis: everything that needs signals, rules, gates or plans. The composition
 * root implements it; tests give a fake. Every method takes the instant at which the answer is to be true.
 *
 * A method returns `undefined` where the thing named by its id does not exist (404), and throws `UserError`
 * where the request makes sense as a message but can't be done.
 */
import type { Introduction } from '../store/field-log/introductions.ts';
import type { Owner } from '../store/places/assignments.ts';
import type { ParsedBodyOf, ParsedQueryOf, ResponseOf, Role } from '../contract/index.ts';
import type { AlertDto, EvaluationDto } from '../contract/alerts.ts';
import type { ChartDto } from '../contract/chart.ts';
import type { NucDetail, NucSummary } from '../contract/nucs.ts';
import type { BatchPreview, PlanDto, QueensForNucs } from '../contract/plan.ts';
import type { BatchReview, Outcomes } from '../contract/review.ts';

type Awaitable<T> = T | Promise<T>;

/** Whoever asks: a signed-in person, an API token, or the keeper at the machine before a password is set. */
export interface Actor {
  /** Id of the person; tokens and the keeper before first run have none. */
  readonly personId: string | null;
  /** What the logs show. */
  readonly name: string;
  readonly role: Exclude<Role, 'anyone'>;
}

/** One closed or open introduction as a row of the outcomes export; column names are the keys. */
export interface OutcomeRow {
  readonly nuc: string;
  readonly site: string;
  readonly batch: string;
  readonly introductionId: string;
  readonly startingPoint: string;
  readonly method: string;
  readonly queen: string;
  readonly source: string;
  /** ISO 8601, or empty where it has not happened. */
  readonly splitAt: string;
  readonly releasedAt: string;
  readonly outcome: string;
  readonly outcomeAt: string;
}

export interface Views {
  nucs(nowMs: number): Awaitable<readonly NucSummary[]>;
  nuc(id: string, nowMs: number): Awaitable<NucDetail | undefined>;
  chart(id: string, query: ParsedQueryOf<'getNucChart'>, nowMs: number): Awaitable<ChartDto | undefined>;

  /** Most urgent first. */
  alerts(query: ParsedQueryOf<'listAlerts'>, nowMs: number): Awaitable<readonly AlertDto[]>;
  /** Readings are still being looked through, so that more alerts may come. */
  isLooking(): boolean;
  actOnAlert(
    id: string,
    action: ParsedBodyOf<'actOnAlert'>,
    actor: Actor,
    nowMs: number,
  ): Awaitable<AlertDto | undefined>;
  evaluations(nucId: string, nowMs: number): Awaitable<readonly EvaluationDto[] | undefined>;

  plan(query: ParsedQueryOf<'getPlan'>, nowMs: number): Awaitable<PlanDto>;
  queens(query: ParsedQueryOf<'getQueens'>, nowMs: number): Awaitable<readonly QueensForNucs[]>;
  /** Throws `UserError` where the split is made already or the change makes no sense. */
  changeIntroduction(
    id: string,
    change: ParsedBodyOf<'changeIntroduction'>,
    actor: Actor,
    nowMs: number,
  ): Awaitable<Introduction | undefined>;
  previewBatch(input: ParsedBodyOf<'previewBatch'>, nowMs: number): Awaitable<BatchPreview>;
  createBatch(input: ParsedBodyOf<'createBatch'>, nowMs: number): Awaitable<ResponseOf<'createBatch'>>;
  /** Text of the calendar (RFC 5545), the same for everybody; it reminds so many hours before each visit, or not. */
  calendar(nowMs: number, reminderH: number | null): Awaitable<string>;

  reviewBatch(query: ParsedQueryOf<'reviewBatch'>, nowMs: number): Awaitable<BatchReview>;
  outcomes(query: ParsedQueryOf<'outcomes'>, nowMs: number): Awaitable<Outcomes>;
  outcomeRows(nowMs: number): Awaitable<readonly OutcomeRow[]>;
  /** `undefined` where there is no such nuc. */
  replay(input: ParsedBodyOf<'replay'>, nowMs: number): Awaitable<ResponseOf<'replay'> | undefined>;

  /** Limits in force for the farm, or for the site or nuc that is named; `undefined` where there is no such place. */
  limits(query: ParsedQueryOf<'listLimits'>, nowMs: number): Awaitable<ResponseOf<'listLimits'> | undefined>;
  /** Sets or removes one limit, records the change, and returns the limits in force at that scope. */
  putLimit(input: ParsedBodyOf<'putLimit'>, actor: Actor, nowMs: number): Awaitable<ResponseOf<'putLimit'>>;

  /** Sends a test message; a failure is an answer, not an error. */
  tryTelling(id: string, nowMs: number): Awaitable<ResponseOf<'tryTelling'> | undefined>;

  /** Facts of this introduction were stored: re-evaluate its gates, plan and alerts at once. */
  afterLog(introductionId: string, nowMs: number): Awaitable<void>;
  /** A visit to this hive, outside an introduction, was logged or withdrawn. */
  afterHiveVisit(hiveId: string, nowMs: number): Awaitable<void>;
  /** An export was taken in, which may have brought anything, its alerts too. */
  afterImport(): Awaitable<void>;
  /**
   * Sites, hives, assignments, calibrations, arrivals, settings or a file of readings: what was worked out is void. The
   * past is looked at again at these places; everywhere, where none is named.
   */
  afterSetupChange(nowMs: number, places?: readonly Owner[]): Awaitable<void>;
}
