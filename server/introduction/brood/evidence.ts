/**
 * When was the last fertile egg laid in this box, and since when is it queenless? Both as intervals: what a
 * keeper saw as the youngest brood bounds them on both sides, a brought-in frame moves them, and a sight
 * that does not fit is a finding of its own.
 */
import { developmentMs, msPerHour } from '../../biology/duration.ts';
import {
  eggsSeenAfterDays,
  firstCellsHours,
  openBroodUntilDays,
  highEnd,
  lowEnd,
} from '../../biology/figures.ts';
import { ages, broodSights, high, type BroodSight } from './brood-sights.ts';
import { shownQueenless, type ShownQueenless } from './shown-queenless.ts';
import type { Contradiction } from '../log/contradictions.ts';
import { lastOf, ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import { cellCounts, type StartingPoint } from '../log/facts.ts';
import {
  broughtIn,
  endOfHerTime,
  perhapsLaid,
  foldSight,
  narrowByNoEgg,
  removeQueen,
  settleByFrame,
  type Bounds,
  type Folded,
} from './last-egg.ts';
import { lossOf } from '../log/loss.ts';
import type { QueenState, TimeOut } from '../queen/queen-state.ts';
import type { IntroductionSetup, Interval } from '../log/setup.ts';
import { testFrames, type TestFrame } from '../log/test-frames.ts';
import { splitWithoutBrood } from './without-brood.ts';

export interface Evidence extends ShownQueenless {
  /** Last fertile egg laid in the box. `latestMs` null: a queen may be laying in it still. */
  readonly lastFertileEgg: Interval;
  /** The split got no brood, and nothing that was seen since says otherwise. */
  readonly withoutBrood: boolean;
  /**
   * The same as the days are counted from: the split, where the old queen was not seen then and no brood speaks for her.
   * Null where nothing bounds the last egg.
   */
  readonly likelyLastEggMs: number | null;
  /**
   * No date of the last egg can be before this, whatever else is in doubt: brood that was seen, and brood that was
   * brought in as if its eggs were laid on that day. Null where nothing is known.
   */
  readonly lastEggNotBeforeMs: number | null;
  /** The same without frames brought in and without the queens of `laterLosses`; null where nobody knows. */
  readonly firstLastEggMs: number | null;
  /** Queens that laid here since and are gone: each left eggs up to then. */
  readonly laterLosses: readonly number[];
  /** The last egg rests on a queen that may have laid until then, and nobody saw her eggs; null else. */
  readonly perhapsLaidUntilMs: number | null;
  /** Start of queenlessness. */
  readonly queenlessSince: Interval;
  readonly contradictions: readonly Contradiction[];
}

/** The queen that is to be taken out lays until then, and the bees of a split come from another colony. */
const beginsAnew: ReadonlySet<StartingPoint> = new Set(['planned-split', 'requeened-in-place']);

/** Where the bounds start, before anything was seen. `exact` bounds are the keeper's own act and only move later. */
function startingBounds(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  broodless: EffectiveFact<'split-made'> | null,
): { readonly egg: Bounds; readonly queenless: Bounds; readonly exact: boolean } {
  const split = ofKind(facts, 'split-made')[0];
  if (split && split.fact.oldQueen !== 'not-seen') {
    const why =
      split.fact.oldQueen === 'seen-in-parent'
        ? 'split made with the old queen seen in the parent colony'
        : 'old queen found in the split and taken back to the parent colony';
    const bounds = (ms: number, because = why): Bounds => ({
      earliestMs: ms,
      latestMs: ms,
      restsOn: [because],
    });
    const egg = broodless
      ? bounds(split.atMs - ages.none.from, 'the split got no brood')
      : bounds(split.atMs);
    return { egg, queenless: bounds(split.atMs), exact: true };
  }
  const carried = split || beginsAnew.has(setup.startingPoint) ? undefined : setup.carried;
  return {
    egg: split ? { ...copy(undefined), earliestMs: soonestLoss(split) } : copy(carried?.lastFertileEgg),
    queenless: copy(carried?.queenlessSince),
    exact: isExact(carried?.lastFertileEgg),
  };
}

/**
 * Of a split at which nobody saw the old queen: its open brood was laid until then, and without a queen its bees would
 * have started cells.
 */
function soonestLoss({ atMs, fact }: EffectiveFact<'split-made'>): number | null {
  if (fact.framesOfOpenBrood === 0) return null;
  return fact.cellsAlreadyThere === 'none'
    ? atMs - highEnd(firstCellsHours) * msPerHour
    : atMs - high(openBroodUntilDays);
}

const isExact = (interval: Interval | undefined): boolean =>
  interval !== undefined && interval.latestMs !== null && interval.earliestMs === interval.latestMs;

const copy = (interval: Interval | undefined): Bounds => ({
  earliestMs: interval?.earliestMs ?? null,
  latestMs: interval?.latestMs ?? null,
  restsOn: [...(interval?.restsOn ?? [])],
});

const foundHopeless = ({ startingPoint }: IntroductionSetup, facts: readonly EffectiveFact[]): boolean =>
  startingPoint === 'hopelessly-queenless' &&
  ofKind(facts, 'split-made').length === 0 &&
  !facts.some(({ fact }) => 'cells' in fact && (fact.cells.open ?? 0) + (fact.cells.sealed ?? 0) > 0);

/** Until then the brood of a colony that is requeened in place is its old queen's, and tells nothing of a loss. */
function oldQueenUntil(setup: IntroductionSetup, facts: readonly EffectiveFact[]): number {
  const inPlace = setup.startingPoint === 'requeened-in-place' && ofKind(facts, 'split-made').length === 0;
  return inPlace ? (lossOf(facts)?.atMs ?? Infinity) : -Infinity;
}

type TimeEnded = TimeOut & { readonly untilMs: number };

/** When eggs or young larvae of hers were first seen. */
const eggsInTime = (sights: Iterable<BroodSight>, { fromMs, untilMs }: TimeEnded): number | undefined =>
  [...sights].find(
    ({ atMs, hers, youngest }) =>
      hers && atMs >= fromMs && atMs <= untilMs && (youngest === 'eggs' || youngest === 'young-larvae'),
  )?.atMs;

/** Nobody saw eggs of hers, she was out for long enough to lay, and no look on every frame since shows that she did not. */
function mayHaveLaid(
  sights: Iterable<BroodSight>,
  { fromMs, freeFromMs = fromMs, untilMs }: TimeEnded,
  laysAfterMs: number,
): boolean {
  const soonestMs = freeFromMs + laysAfterMs;
  const laidNothing = ({ atMs, youngest, everyFrame, shaken }: BroodSight): boolean =>
    atMs >= untilMs && everyFrame && shaken && youngest !== null && atMs - ages[youngest].from <= soonestMs;
  return untilMs > soonestMs && ![...sights].some(laidNothing);
}

interface Sources {
  readonly frames: readonly TestFrame[];
  readonly couldLay: readonly TimeOut[];
  readonly broodless: EffectiveFact<'split-made'> | null;
}

function foldSights(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  { frames, couldLay, broodless }: Sources,
): Folded {
  const start = startingBounds(setup, facts, broodless);
  const split = ofKind(facts, 'split-made')[0];
  const folded: Folded = {
    foundHopeless: foundHopeless(setup, facts),
    splitUnseenMs: split?.fact.oldQueen === 'not-seen' ? split.atMs : null,
    egg: start.egg,
    queenless: start.queenless,
    contradictions: [],
    broughtInMs: -Infinity,
    contradictedAtMs: null,
    nothingLaid: false,
    doubt: null,
    firstLastEggMs: null,
    laterLosses: [],
    perhapsLaidUntilMs: null,
  };
  const sights = new Map(broodSights(facts, couldLay).map((sight) => [sight.factId, sight]));
  let { exact } = start;
  const laysAfterMs =
    setup.startingPoint === 'own-laying-queen' ? 0 : developmentMs(lowEnd(eggsSeenAfterDays));
  const oldQueenUntilMs = oldQueenUntil(setup, facts);
  const ended = couldLay.flatMap((time) =>
    time.untilMs === null ? [] : [{ ...time, untilMs: time.untilMs }],
  );
  for (const event of facts) {
    for (let [time] = ended; time && time.untilMs <= event.atMs; [time] = ended) {
      ended.shift();
      const eggsMs = eggsInTime(sights.values(), time);
      if (eggsMs !== undefined) endOfHerTime(folded, eggsMs, time.untilMs);
      else if (mayHaveLaid(sights.values(), time, laysAfterMs)) perhapsLaid(folded, time.untilMs);
      else continue;
      exact = false;
    }
    const sight = sights.get(event.id);
    const onTestFrame = frames.some((f) => f.inMs < event.atMs && event.atMs <= (f.outMs ?? event.atMs));
    if (sight && !sight.hers && !onTestFrame && event.atMs >= oldQueenUntilMs)
      exact = foldSight(folded, sight, exact);
    if (sight?.noEggElse === true && !onTestFrame) narrowByNoEgg(folded, sight, exact);
    if (event.fact.kind === 'brood-frame-added') {
      broughtIn(folded, event as EffectiveFact<'brood-frame-added'>);
    }
    const told = frames.find(({ outMs }) => outMs === event.atMs);
    if (event.fact.kind === 'brood-frame-taken' && told) exact = settleByFrame(folded, told, exact);
    if (event.fact.kind === 'queen-removed' && event.fact.which !== 'virgin') {
      removeQueen(folded, event as EffectiveFact<'queen-removed'>);
      exact = true;
    }
  }
  return folded;
}

/** A queen that was not seen at the split lays on or was never in it: that she was lost some days later is rare. */
function likelyLastEgg({ egg, splitUnseenMs, broughtInMs, laterLosses }: Folded): number | null {
  const { earliestMs, latestMs } = egg;
  if (latestMs === null || splitUnseenMs === null || laterLosses.length > 0) return latestMs;
  const laidSince = Math.max(earliestMs ?? -Infinity, broughtInMs) > splitUnseenMs;
  return laidSince ? latestMs : Math.min(latestMs, splitUnseenMs);
}

/** Cells that bees started say that they had no queen half a day before. */
function queenlessBounds(folded: Folded, facts: readonly EffectiveFact[]): Interval {
  const { queenless, egg } = folded;
  if (queenless.latestMs !== null) return queenless;
  const firstCells = facts.find(
    ({ fact }) =>
      (fact.kind === 'inspection' || fact.kind === 'cells-cut') &&
      Object.values(cellCounts(fact.cells)).some((count) => count > 0),
  );
  return {
    earliestMs: queenless.earliestMs ?? egg.earliestMs,
    latestMs: firstCells ? firstCells.atMs - lowEnd(firstCellsHours) * msPerHour : null,
    restsOn: firstCells ? [...egg.restsOn, 'queen cells seen'] : egg.restsOn,
  };
}

/** Evidence on the last fertile egg and on queenlessness, from facts in the order in which they happened. */
export function gatherEvidence(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  { couldLay, metAtMs }: Pick<QueenState, 'couldLay' | 'metAtMs'>,
): Evidence {
  const frames = testFrames(facts);
  const broodless = splitWithoutBrood(facts, couldLay);
  const folded = foldSights(setup, facts, { frames, couldLay, broodless });
  const firstLastEggMs = folded.firstLastEggMs ? folded.firstLastEggMs.ms : folded.egg.latestMs;
  const stillIn = lastOf(frames.filter((frame) => frame.outMs === null));
  const notBefore = Math.max(
    folded.egg.earliestMs ?? -Infinity,
    folded.broughtInMs,
    stillIn?.inMs ?? -Infinity,
  );
  return {
    lastFertileEgg: folded.egg,
    withoutBrood: broodless !== null,
    likelyLastEggMs: likelyLastEgg(folded),
    lastEggNotBeforeMs: Number.isFinite(notBefore) ? notBefore : null,
    firstLastEggMs,
    laterLosses: folded.laterLosses,
    perhapsLaidUntilMs: folded.perhapsLaidUntilMs === folded.egg.latestMs ? folded.perhapsLaidUntilMs : null,
    queenlessSince: queenlessBounds(folded, facts),
    ...shownQueenless(setup, facts, folded, { frames, metAtMs }),
    contradictions: folded.contradictions,
  };
}
