/**
 * When was the last fertile egg laid in this box, and since when is it queenless? Both as intervals: what a
 * keeper saw as the youngest brood bounds them on both sides, a brought-in frame moves them, and a sight
 * that does not fit is a finding of its own.
 */
import { msPerHour } from '../biology/duration.ts';
import {
  eggStageDays,
  firstCellsHours,
  openBroodUntilDays,
  rearableLimitDays,
  youngLarvaUntilDays,
  highEnd,
  lowEnd,
} from '../biology/figures.ts';
import { high, ages, inWords, broodSights, type BroodSight } from './brood-sights.ts';
import { shownQueenless, type ShownQueenless } from './shown-queenless.ts';
import { youngLarvaInLateCell, type Contradiction } from './contradictions.ts';
import { lastOf, ofKind, type EffectiveFact } from './effective-facts.ts';
import { cellCounts } from './facts.ts';
import { lossOf } from './loss.ts';
import type { TimeOut } from './queen.ts';
import type { IntroductionSetup, Interval } from './setup.ts';
import { testFrames, type TestFrame } from './test-frames.ts';

export interface Evidence extends ShownQueenless {
  /** Last fertile egg laid in the box. `latestMs` null: a queen may be laying in it still. */
  readonly lastFertileEgg: Interval;
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
  /** Start of queenlessness. */
  readonly queenlessSince: Interval;
  readonly contradictions: readonly Contradiction[];
}

interface Bounds {
  earliestMs: number | null;
  latestMs: number | null;
  readonly restsOn: string[];
}

/** Where the bounds start, before anything was seen. `exact` bounds are the keeper's own act and only move later. */
function startingBounds(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
): { readonly egg: Bounds; readonly queenless: Bounds; readonly exact: boolean } {
  const split = ofKind(facts, 'split-made')[0];
  if (split && split.fact.oldQueen !== 'not-seen') {
    const why =
      split.fact.oldQueen === 'seen-in-parent'
        ? 'split made with the old queen seen in the parent colony'
        : 'old queen found in the split and taken back to the parent colony';
    const bounds = (): Bounds => ({ earliestMs: split.atMs, latestMs: split.atMs, restsOn: [why] });
    return { egg: bounds(), queenless: bounds(), exact: true };
  }
  // The queen that is to be taken out of it lays until then.
  const carried = split || setup.startingPoint === 'requeened-in-place' ? undefined : setup.carried;
  return {
    egg: split ? { ...copy(undefined), earliestMs: soonestLoss(split) } : copy(carried?.lastFertileEgg),
    queenless: copy(carried?.queenlessSince),
    exact: isExact(carried?.lastFertileEgg),
  };
}

/** Of a split at which nobody saw the old queen: its open brood was laid until then, and without a queen its bees would have started cells. */
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

/** Brood from later eggs than the log allows: than the last egg, or than a split at which the old queen was not seen. */
function tooYoung(
  folded: Folded,
  { atMs, factId }: BroodSight,
  seen: string,
  eggFromMs: number,
): Contradiction | null {
  const { egg, splitUnseenMs, broughtInMs } = folded;
  const common = { atMs, factIds: [factId] };
  if (egg.latestMs !== null) {
    const text = `${seen} were seen, too young for the last egg that the log allows. A queen or workers are laying in there, or a fact in the log is wrong`;
    return eggFromMs > egg.latestMs ? { kind: 'brood-too-young', ...common, text } : null;
  }
  if (folded.foundHopeless && eggFromMs > broughtInMs) {
    const text = `${seen} were seen in a colony that was taken for hopelessly queenless, and no queen cell. A queen or workers are laying in there`;
    return { kind: 'brood-too-young', ...common, text };
  }
  const text = `${seen} were seen, laid since the split. The old queen was not seen then: she may be in it`;
  return splitUnseenMs !== null && eggFromMs > Math.max(splitUnseenMs, broughtInMs)
    ? { kind: 'brood-since-the-split', ...common, text }
    : null;
}

/** One sight narrows the bounds, or contradicts them. It does not overlook what a frame brought in. */
function narrow(folded: Folded, sight: BroodSight, exact: boolean): Contradiction | null {
  const { youngest } = sight;
  const bounds = folded.egg;
  if (youngest === null) return null;
  const age = ages[youngest];
  const eggFrom = age.to === null ? null : sight.atMs - age.to;
  const eggUntil = sight.atMs - age.from;
  const contradiction = eggFrom === null ? null : tooYoung(folded, sight, inWords[youngest], eggFrom);
  if (contradiction && eggFrom !== null) {
    folded.doubt = { eggFromMs: eggFrom, before: { ...bounds, restsOn: [...bounds.restsOn] }, exact };
    bounds.latestMs = null;
  }
  if (eggFrom !== null) bounds.earliestMs = Math.max(bounds.earliestMs ?? eggFrom, eggFrom);
  const mayShorten = !exact || bounds.latestMs === null;
  if (sight.everyFrame && mayShorten) {
    const latest = Math.min(bounds.latestMs ?? eggUntil, eggUntil);
    bounds.latestMs = Math.max(latest, bounds.earliestMs ?? latest, folded.broughtInMs);
    bounds.restsOn.push(`${inWords[youngest]} as the youngest brood on every frame`);
  } else if (eggFrom !== null && !exact) bounds.restsOn.push(`${inWords[youngest]} seen`);
  return contradiction;
}

/** No egg but hers under her mesh: the last of before is older than an egg lasts. */
function narrowByNoEgg({ egg, broughtInMs }: Folded, { atMs, everyFrame }: BroodSight, exact: boolean): void {
  if (!everyFrame || (exact && egg.latestMs !== null)) return;
  const eggUntil = atMs - ages['young-larvae'].from;
  const latest = Math.min(egg.latestMs ?? eggUntil, eggUntil);
  egg.latestMs = Math.max(latest, egg.earliestMs ?? latest, broughtInMs);
  egg.restsOn.push('no egg but hers under the mesh on every frame');
}

/** A young larva in an open cell, when every larva of the last egg is older than that, came from a later egg. */
function lateLarva(folded: Folded, sight: BroodSight, exact: boolean): Contradiction | null {
  const bounds = folded.egg;
  const { latestMs } = bounds;
  if (!sight.youngLarvaInOpenCell || latestMs === null || sight.atMs < latestMs + high(rearableLimitDays))
    return null;
  const eggFromMs = sight.atMs - high(youngLarvaUntilDays);
  folded.doubt = { eggFromMs, before: { ...bounds, restsOn: [...bounds.restsOn] }, exact };
  bounds.latestMs = sight.everyFrame ? sight.atMs - ages['young-larvae'].from : null;
  bounds.restsOn.push('a young larva in an open queen cell');
  return youngLarvaInLateCell(sight);
}

/**
 * A later look on every frame, bees shaken off, that finds no egg and no young larva: nothing lays in there. Where
 * all brood is older than what was taken for too young, that was a mistake, and the date from before stands.
 */
function settleDoubt(folded: Folded, sight: BroodSight): boolean | null {
  const { doubt } = folded;
  const { youngest } = sight;
  if (!doubt || youngest === null || youngest === 'eggs' || youngest === 'young-larvae') return null;
  if (!sight.everyFrame || !sight.shaken || sight.youngLarvaInOpenCell) return null;
  folded.contradictedAtMs = null;
  folded.contradictions.length = 0;
  folded.doubt = null;
  const latestPossible = sight.atMs - ages[youngest].from;
  if (latestPossible >= doubt.eggFromMs) return false;
  const latestMs = doubt.before.latestMs ?? latestPossible;
  folded.egg.earliestMs = doubt.before.earliestMs;
  folded.egg.latestMs = Math.max(latestMs, folded.broughtInMs);
  folded.egg.restsOn.push('a later look on every frame found nothing as young');
  return doubt.exact;
}

/** The date from before stays on record beside the later one. */
function laterLoss(folded: Folded, atMs: number | null): void {
  folded.firstLastEggMs ??= { ms: folded.egg.latestMs };
  if (atMs !== null) folded.laterLosses.push(atMs);
}

/** Eggs of a queen that was brought and is not there any more move the last egg to the end of her time. */
function endOfHerTime(folded: Folded, firstEggsMs: number, untilMs: number): void {
  laterLoss(folded, untilMs);
  for (const bounds of [folded.egg, folded.queenless]) {
    bounds.earliestMs = firstEggsMs - high(eggStageDays);
    bounds.latestMs = Math.max(bounds.latestMs ?? untilMs, untilMs);
    bounds.restsOn.push('eggs of the queen that was brought');
  }
}

/** A frame with open brood brought in moves the last fertile egg; sealed brood does not. */
function broughtIn(folded: Folded, { atMs, fact }: EffectiveFact<'brood-frame-added'>): void {
  if (fact.asTestFrame || fact.brood === 'sealed-only') return;
  const kind = fact.brood === 'old-larvae' ? 'old-larvae' : 'eggs';
  const latest = atMs - ages[kind].from;
  folded.broughtInMs = Math.max(folded.broughtInMs, latest);
  const bounds = folded.egg;
  if (bounds.latestMs === null || latest <= bounds.latestMs) return;
  laterLoss(folded, null);
  bounds.latestMs = latest;
  bounds.earliestMs = Math.max(bounds.earliestMs ?? latest, latest - high(eggStageDays));
  bounds.restsOn.push('a frame of open brood brought in');
}

interface Folded {
  readonly egg: Bounds;
  readonly queenless: Bounds;
  readonly contradictions: Contradiction[];
  /** Youngest egg that brought-in frames may hold; -Infinity without one. */
  broughtInMs: number;
  /** Instant of the last sight that spoke for a queen. */
  contradictedAtMs: number | null;
  /** Set with the first frame brought in, or queen that laid here later. */
  firstLastEggMs: { readonly ms: number | null } | null;
  readonly laterLosses: number[];
  /** Taken for hopelessly queenless, and no living cell was ever seen: nothing young has a place in it. */
  readonly foundHopeless: boolean;
  /** A split at which the old queen was not seen; null where there was none, or she was taken away since. */
  splitUnseenMs: number | null;
  /** What stood before that sight, to go back to where a later look shows it to be a mistake. */
  doubt: { readonly eggFromMs: number; readonly before: Bounds; readonly exact: boolean } | null;
}

/** One sight, on no test frame and of no queen that was brought. Returns whether the bounds are exact still. */
function foldSight(folded: Folded, sight: BroodSight, exact: boolean): boolean {
  const contradiction = lateLarva(folded, sight, exact) ?? narrow(folded, sight, exact);
  if (contradiction) {
    folded.contradictions.push(contradiction);
    folded.contradictedAtMs = sight.atMs;
    return false;
  }
  return settleDoubt(folded, sight) ?? exact;
}

const foundHopeless = ({ startingPoint }: IntroductionSetup, facts: readonly EffectiveFact[]): boolean =>
  startingPoint === 'hopelessly-queenless' &&
  ofKind(facts, 'split-made').length === 0 &&
  !facts.some(({ fact }) => 'cells' in fact && (fact.cells.open ?? 0) + (fact.cells.sealed ?? 0) > 0);

/** Until then the brood of a colony that is requeened in place is its old queen's, and tells nothing of a loss. */
function oldQueenUntil(setup: IntroductionSetup, facts: readonly EffectiveFact[]): number {
  const inPlace = setup.startingPoint === 'requeened-in-place' && ofKind(facts, 'split-made').length === 0;
  return inPlace ? (lossOf(facts)?.atMs ?? Infinity) : -Infinity;
}

function foldSights(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  frames: readonly TestFrame[],
  couldLay: readonly TimeOut[],
): Folded {
  const start = startingBounds(setup, facts);
  const split = ofKind(facts, 'split-made')[0];
  const folded: Folded = {
    foundHopeless: foundHopeless(setup, facts),
    splitUnseenMs: split?.fact.oldQueen === 'not-seen' ? split.atMs : null,
    egg: start.egg,
    queenless: start.queenless,
    contradictions: [],
    broughtInMs: -Infinity,
    contradictedAtMs: null,
    doubt: null,
    firstLastEggMs: null,
    laterLosses: [],
  };
  const sights = new Map(broodSights(facts, couldLay).map((sight) => [sight.factId, sight]));
  let { exact } = start;
  const eggsInTime = (time: TimeOut): number | undefined =>
    [...sights.values()].find(
      ({ atMs, hers, youngest }) =>
        hers &&
        atMs >= time.fromMs &&
        (youngest === 'eggs' || youngest === 'young-larvae') &&
        atMs <= (time.untilMs ?? Infinity),
    )?.atMs;
  const oldQueenUntilMs = oldQueenUntil(setup, facts);
  const ended = couldLay.filter(({ untilMs }) => untilMs !== null);
  for (const event of facts) {
    while (ended[0] && ended[0].untilMs !== null && ended[0].untilMs <= event.atMs) {
      const time = ended.shift();
      const eggsMs = time && eggsInTime(time);
      if (time?.untilMs == null || eggsMs === undefined) continue;
      endOfHerTime(folded, eggsMs, time.untilMs);
      exact = false;
    }
    const sight = sights.get(event.id);
    const onTestFrame = frames.some((f) => f.inMs <= event.atMs && event.atMs <= (f.outMs ?? event.atMs));
    if (sight && !sight.hers && !onTestFrame && event.atMs >= oldQueenUntilMs)
      exact = foldSight(folded, sight, exact);
    if (sight?.noEggElse === true && !onTestFrame) narrowByNoEgg(folded, sight, exact);
    if (event.fact.kind === 'brood-frame-added') {
      broughtIn(folded, event as EffectiveFact<'brood-frame-added'>);
    }
    if (event.fact.kind === 'queen-removed') removeQueen(folded, event as EffectiveFact<'queen-removed'>);
  }
  return folded;
}

/** A laying queen taken away: from this instant on the box is queenless, and no later egg is fertile. */
function removeQueen(folded: Folded, { atMs, fact }: EffectiveFact<'queen-removed'>): void {
  // A virgin taken away says nothing about a queen that lays.
  if (fact.which === 'virgin') return;
  folded.contradictedAtMs = null;
  folded.contradictions.length = 0;
  folded.doubt = null;
  folded.splitUnseenMs = null;
  if (fact.which === 'young-queen') laterLoss(folded, atMs);
  for (const bounds of [folded.egg, folded.queenless]) {
    bounds.earliestMs = atMs;
    bounds.latestMs = atMs;
    // Whatever was seen before was hers.
    bounds.restsOn.splice(0, Infinity, 'the queen that was found was taken away');
  }
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
  couldLay: readonly TimeOut[],
): Evidence {
  const frames = testFrames(facts);
  const folded = foldSights(setup, facts, frames, couldLay);
  const firstLastEggMs = folded.firstLastEggMs ? folded.firstLastEggMs.ms : folded.egg.latestMs;
  const stillIn = lastOf(frames.filter((frame) => frame.outMs === null));
  const notBefore = Math.max(
    folded.egg.earliestMs ?? -Infinity,
    folded.broughtInMs,
    stillIn?.inMs ?? -Infinity,
  );
  return {
    lastFertileEgg: folded.egg,
    likelyLastEggMs: likelyLastEgg(folded),
    lastEggNotBeforeMs: Number.isFinite(notBefore) ? notBefore : null,
    firstLastEggMs,
    laterLosses: folded.laterLosses,
    queenlessSince: queenlessBounds(folded, facts),
    ...shownQueenless(setup, facts, folded, frames),
    contradictions: folded.contradictions,
  };
}
