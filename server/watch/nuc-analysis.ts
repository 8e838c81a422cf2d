/** Everything that is worked out about one nuc at one instant: its introduction, its signals, its gates and plan. */
import { answerFor, type Answer } from '../introduction/acts/answer.ts';
import { framesAtSplit } from '../introduction/acts/frames-of-bees.ts';
import type { Gate } from '../introduction/acts/gate.ts';
import { gatesOf } from '../introduction/gates/views.ts';
import type { PlanStep } from '../introduction/acts/plan-step.ts';
import { noneFlewHome } from '../introduction/log/move-distance.ts';
import { foldIntroduction, type IntroductionState } from '../introduction/state.ts';
import { analyseNuc, type AnalysisCache, type AnalysisInput } from '../signals/analyse.ts';
import type { BroodRegime, Forecast, NucSeries, NucSignals } from '../signals/types.ts';
import type { Display } from '../words/phrase.ts';
import { broodNow } from '../introduction/brood/brood-now.ts';
import { lazy, withLater } from '../lazily.ts';
import { gateEvidence } from './gate-evidence.ts';
import { knownEvents, movedAtMs, visitEvents } from './known-events.ts';
import type { NucContext } from './nuc-context.ts';
import type { SettledAt } from './settled-hives.ts';

export interface NucAnalysis extends NucContext {
  readonly nowMs: number;
  readonly state: IntroductionState | null;
  /** Null where no sensor was ever assigned. */
  readonly signals: NucSignals | null;
  /** The keeper's limit for the chance of a rival; null where it can't be read. */
  readonly chanceLimit: number | null;
  readonly gates: readonly Gate[];
  readonly plan: readonly PlanStep[];
  /** How its sentences are set: the farm's units, the site's clock. */
  readonly display: Display;
}

export interface FarmChoices {
  /** Null: what is set can't be read, and no chance is small enough. */
  readonly chanceLimit: number | null;
  readonly unavailableDates: readonly string[];
  /** What sentences are set in. */
  readonly units: Omit<Display, 'timeZone'>;
}

export function fold(context: NucContext, nowMs: number): IntroductionState | null {
  return context.setup && foldIntroduction(context.setup, context.log, nowMs);
}

export function signalsOf(
  context: NucContext,
  state: IntroductionState | null,
  series: NucSeries,
  nowMs: number,
  options: ReadingOptions = {},
): NucSignals | null {
  if (Object.keys(series).length === 0) return null;
  return analyseNuc(analysisInput(context, state, series, nowMs, options), nowMs, options.cache);
}

export interface ReadingOptions {
  readonly cache?: AnalysisCache;
  readonly changedFromMs?: number;
  readonly forecast?: Forecast;
  readonly settledAt?: SettledAt;
}

function analysisInput(
  { nuc, site, visits }: NucContext,
  state: IntroductionState | null,
  series: NucSeries,
  nowMs: number,
  { forecast, changedFromMs, settledAt }: ReadingOptions = {},
): AnalysisInput {
  const { emptyKg } = nuc.box;
  const facts = state?.facts ?? [];
  const moved = movedAtMs(facts);
  const queen = state?.queen;
  const framesOfBees = state ? framesAtSplit(state) : undefined;
  const settledG = moved === undefined || !series.weightG ? undefined : settledAt?.(site, moved, nowMs);
  return {
    series: settledG ? { ...series, settledG } : series,
    place: site,
    events: [...knownEvents(facts), ...visitEvents(visits, nowMs)].sort((a, b) => a.atMs - b.atMs),
    broodRegime: (atMs) => broodRegimeOf(state, atMs),
    ...(moved === undefined ? {} : { movedAtMs: moved }),
    ...(noneFlewHome(facts) ? { noneFlewHome: true } : {}),
    ...(queen?.releasedAtMs == null ? {} : { releasedAtMs: queen.releasedAtMs }),
    ...(queen?.inCageSinceMs == null ? {} : { queenInCage: true }),
    ...(emptyKg === undefined ? {} : { emptyBoxG: emptyKg * 1000 }),
    ...(framesOfBees === undefined ? {} : { framesOfBees }),
    ...(state?.split && {
      framesOfBrood: { sealed: state.split.framesOfSealedBrood, open: state.split.framesOfOpenBrood },
    }),
    ...(forecast ? { forecast } : {}),
    ...(changedFromMs === undefined ? {} : { changedFromMs }),
  };
}

export const broodRegimeOf = (state: IntroductionState | null, atMs: number): BroodRegime =>
  state ? broodNow(state.windows, state.queen, atMs).brood : 'unknown';

export function judge(
  context: NucContext,
  state: IntroductionState | null,
  signals: NucSignals | null,
  nowMs: number,
  choices: FarmChoices,
): NucAnalysis {
  const { chanceLimit, unavailableDates: unavailable } = choices;
  // Not kept: what gates and plan are worked out from takes three times the room of the plan. Rules ask for the plan at every
  // look, for gates hardly ever, and a page asks for both once a minute at most.
  const answer = (): Answer | null =>
    state === null ? null : answerFor(state, gateEvidence(signals, chanceLimit, state), { unavailable });
  const gates = lazy(() => {
    const given = answer();
    return given ? gatesOf(given) : [];
  });
  const plan = lazy(() => answer()?.plan ?? []);
  return withLater(
    {
      nowMs,
      state,
      signals,
      chanceLimit,
      display: { timeZone: context.site.timeZone, ...choices.units },
      ...context,
    },
    // Sentences that most looks of the rules need none of.
    { gates, plan },
  );
}
