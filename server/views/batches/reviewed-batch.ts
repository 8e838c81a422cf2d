/** The batch to look back on, with all its nucs, those that are gone as well. */
import { fold, type NucAnalysis } from '../../watch/nuc-analysis.ts';
import { setupOf } from '../../farm/setup-of.ts';
import { foldIntroduction, type IntroductionState } from '../../introduction/state.ts';
import type { Hive } from '../../store/places/hives.ts';
import type { Introduction } from '../../store/field-log/introductions.ts';
import { groupBy } from '../../group-by.ts';
import { queenWasIn } from './outcomes.ts';
import type { ViewDeps } from '../view-deps.ts';
import { dayMs } from '../../durations.ts';

type Outcome = NonNullable<IntroductionState['outcome']>['outcome'];

export interface BatchMember {
  /** As it stood when its introduction was over, or stands now. */
  readonly analysis: NucAnalysis;
  /** With all that was logged since. */
  readonly state: IntroductionState | null;
  /** Of the introductions of this nuc before this one, oldest first. */
  readonly earlier: readonly Outcome[];
}

export interface ReviewedBatch {
  /** Names of all batches. */
  readonly batches: readonly string[];
  /** Undefined where there is no batch at all. */
  readonly batch: string | undefined;
  readonly members: readonly BatchMember[];
}

interface InBatch {
  readonly hive: Hive;
  readonly introduction: Introduction | undefined;
  /** Newest first. */
  readonly before: readonly Introduction[];
  /** When its outcome came, or the nuc was put away. */
  readonly overMs: number | undefined;
}

/** `asked`: the batch by its name; otherwise the one that was over last, or else the one with most queens let out. */
export function reviewedBatch(deps: ViewDeps, asked: string | undefined, nowMs: number): ReviewedBatch {
  const all = deps.store.places
    .listHives({ role: 'nuc', retired: true })
    .map((hive): InBatch => inBatch(deps, hive));
  const byName = new Map(
    [...groupBy(all, ({ hive }) => hive.batch)].flatMap(([name, nucs]) =>
      name === undefined ? [] : [[name, nucs] as const],
    ),
  );
  const batches = [...byName.keys()].sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
  const batch = asked ?? lastOver(byName) ?? mostLetOut(deps, byName, nowMs);
  const members = (byName.get(batch ?? '') ?? []).flatMap((one) => {
    const analysis = analysisOf(deps, one, nowMs);
    if (!analysis) return [];
    const earlier = earlierOf(deps, one, analysis.site.timeZone, nowMs);
    return [{ analysis, state: fold(analysis, nowMs), earlier }];
  });
  return { batches, batch, members };
}

function inBatch({ store }: ViewDeps, hive: Hive): InBatch {
  const [introduction, ...before] = store.introductions.ofNuc(hive.id);
  return { hive, introduction, before, overMs: introduction?.closedAtMs ?? hive.retiredAtMs };
}

function earlierOf({ store }: ViewDeps, { before }: InBatch, timeZone: string, nowMs: number): Outcome[] {
  return before.toReversed().flatMap((introduction) => {
    const log = store.introductions.log(introduction.id);
    const state = foldIntroduction(setupOf(store, introduction, timeZone), log, nowMs);
    return state.outcome && queenWasIn(state) ? [state.outcome.outcome] : [];
  });
}

/** A day after the end its last night has been read. */
function analysisOf({ watch }: ViewDeps, { hive, overMs }: InBatch, nowMs: number): NucAnalysis | undefined {
  const endMs = overMs === undefined ? nowMs : overMs + dayMs;
  return endMs < nowMs ? watch.analysisAtEnd(hive.id, endMs) : watch.analysis(hive.id, nowMs);
}

/** Of the batches of which most nucs are over, the last. */
function lastOver(byName: ReadonlyMap<string, readonly InBatch[]>): string | undefined {
  const over = [...byName].flatMap(([name, nucs]) => {
    const begun = nucs.filter(({ introduction }) => introduction !== undefined);
    const ended = begun.flatMap(({ overMs }) => overMs ?? []);
    return ended.length > 0 && 2 * ended.length >= begun.length ? [{ name, atMs: Math.max(...ended) }] : [];
  });
  return over.sort((a, b) => b.atMs - a.atMs)[0]?.name;
}

function mostLetOut(
  { watch }: ViewDeps,
  byName: ReadonlyMap<string, readonly InBatch[]>,
  nowMs: number,
): string | undefined {
  const points = [...byName].map(([name, nucs]) => {
    const states = nucs.map(({ hive }) => watch.analysis(hive.id, nowMs)?.state);
    return {
      name,
      score: states.filter((state) => state?.outcome || state?.queen.releasedAtMs != null).length,
    };
  });
  return points.sort((a, b) => b.score - a.score || (a.name < b.name ? -1 : 1))[0]?.name;
}
