/**
 * What each fact tells of the last fertile egg and of queenlessness: the youngest brood that was seen narrows the
 * bounds or contradicts them, a frame that is brought in moves them, a queen taken away sets them.
 */
import { developmentMs } from '../../biology/duration.ts';
import {
  eggStageDays,
  lateLarvaeDays,
  rearableLimitDays,
  youngLarvaUntilDays,
} from '../../biology/figures.ts';
import { ages, high, inWords, type BroodSight } from './brood-sights.ts';
import { youngLarvaInLateCell, type Contradiction } from '../log/contradictions.ts';
import type { EffectiveFact } from '../log/effective-facts.ts';
import type { TestFrame } from '../log/test-frames.ts';

/** From when to when it may have been; null: not bounded on that side. */
export interface Bounds {
  earliestMs: number | null;
  latestMs: number | null;
  readonly restsOn: string[];
}

/** The bounds as far as the log is read. */
export interface Folded {
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
  /** End of the last time in which a queen may have laid, and nobody saw her eggs. */
  perhapsLaidUntilMs: number | null;
  /** Taken for hopelessly queenless, and no living cell was ever seen: nothing young has a place in it. */
  readonly foundHopeless: boolean;
  /** The last look on every frame found neither an egg nor a young larva. */
  nothingLaid: boolean;
  /** A split at which the old queen was not seen; null where there was none, or she was taken away since. */
  splitUnseenMs: number | null;
  /** What stood before that sight, to go back to where a later look shows it to be a mistake. */
  doubt: {
    readonly eggFromMs: number;
    readonly before: Pick<Bounds, 'earliestMs' | 'latestMs'>;
    readonly exact: boolean;
    /** Larvae are misjudged, eggs are not. */
    readonly larvae: boolean;
  } | null;
}

/** Brood from later eggs than the log allows: than the last egg, or than a split at which the old queen was not seen. */
function tooYoung(
  folded: Folded,
  { atMs, factId, youngest }: BroodSight,
  seen: string,
  eggFromMs: number,
): Contradiction | null {
  const { egg, splitUnseenMs, broughtInMs } = folded;
  const common = { atMs, factIds: [factId] };
  if (egg.latestMs !== null) {
    const text = `${seen} were seen, too young for the last egg that the log allows. A queen or workers are laying in there, or a fact in the log is wrong`;
    return eggFromMs > egg.latestMs ? { kind: 'brood-too-young', ...common, text } : null;
  }
  // Sealed brood is left of the old queen; who lays has younger brood.
  if (folded.foundHopeless && eggFromMs > broughtInMs && youngest !== 'sealed-only') {
    const who =
      youngest === 'old-larvae'
        ? 'Bees without a queen would have started cells: one may be in there'
        : 'A queen or workers are laying in there';
    const text = `${seen} were seen in a colony that was taken for hopelessly queenless, and no queen cell. ${who}`;
    return { kind: 'brood-too-young', ...common, text };
  }
  const text = `${seen} were seen, laid since the split. The old queen was not seen then: she may be in it`;
  return splitUnseenMs !== null && eggFromMs > Math.max(splitUnseenMs, broughtInMs)
    ? { kind: 'brood-since-the-split', ...common, text }
    : null;
}

/** Every frame, bees shaken off, and neither an egg nor a young larva: nothing lays in there. */
const nothingLays = ({ youngest, everyFrame, shaken, youngLarvaInOpenCell }: BroodSight): boolean =>
  youngest !== null &&
  youngest !== 'eggs' &&
  youngest !== 'young-larvae' &&
  everyFrame &&
  shaken &&
  !youngLarvaInOpenCell;

/**
 * Larvae near sealing as the youngest brood some days after all brood should be sealed: late drone brood, or a mistake.
 * Whoever lays has eggs beside them.
 */
const isLateLarva = ({ egg }: Folded, youngest: BroodSight['youngest'], eggFromMs: number): boolean =>
  youngest === 'old-larvae' &&
  egg.latestMs !== null &&
  eggFromMs > egg.latestMs &&
  eggFromMs - egg.latestMs <= developmentMs(lateLarvaeDays.value);

/** One sight narrows the bounds, or contradicts them. It does not overlook what a frame brought in. */
function narrow(folded: Folded, sight: BroodSight, exact: boolean): Contradiction | null {
  const { youngest } = sight;
  const bounds = folded.egg;
  if (youngest === null) return null;
  // The keeper's own date is surer than how old a larva looked, where two looks in a row found nothing that lays.
  if (exact && bounds.latestMs !== null && folded.nothingLaid && nothingLays(sight)) return null;
  const age = ages[youngest];
  const eggFrom = age.to === null ? null : sight.atMs - age.to;
  const eggUntil = sight.atMs - age.from;
  if (eggFrom !== null && isLateLarva(folded, youngest, eggFrom)) return null;
  const contradiction = eggFrom === null ? null : tooYoung(folded, sight, inWords[youngest], eggFrom);
  if (contradiction && eggFrom !== null) {
    folded.doubt = { eggFromMs: eggFrom, before: { ...bounds }, exact, larvae: youngest !== 'eggs' };
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
export function narrowByNoEgg(
  { egg, broughtInMs }: Folded,
  { atMs, everyFrame }: BroodSight,
  exact: boolean,
): void {
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
  folded.doubt = {
    eggFromMs,
    before: { ...bounds },
    exact,
    larvae: true,
  };
  bounds.latestMs = sight.everyFrame ? sight.atMs - ages['young-larvae'].from : null;
  bounds.restsOn.push('a young larva in an open queen cell');
  return youngLarvaInLateCell(sight);
}

/**
 * A later look on every frame, bees shaken off, that finds no egg and no young larva: nothing lays in there. Where
 * all brood is older than what was taken for too young, or only larvae spoke against the keeper’s own date, that was a
 * mistake, and the date from before stands.
 */
function settleDoubt(folded: Folded, sight: BroodSight): boolean | null {
  const { doubt } = folded;
  const { youngest } = sight;
  if (!doubt || youngest === null || !nothingLays(sight)) return null;
  folded.contradictedAtMs = null;
  folded.contradictions.length = 0;
  folded.doubt = null;
  const latestPossible = sight.atMs - ages[youngest].from;
  const misjudged = doubt.exact && doubt.larvae;
  if (latestPossible >= doubt.eggFromMs && !misjudged) return false;
  const latestMs = doubt.before.latestMs ?? latestPossible;
  folded.egg.earliestMs = doubt.before.earliestMs;
  folded.egg.latestMs = Math.max(latestMs, folded.broughtInMs);
  folded.egg.restsOn.push('a later look on every frame found nothing as young');
  return doubt.exact;
}

/**
 * Cells on a test frame that went in after the sight: no queen was there that could have laid it, so the keeper's own date
 * from before stands.
 */
export function settleByFrame(folded: Folded, { inMs, answer }: TestFrame, exact: boolean): boolean {
  const { doubt, contradictions, contradictedAtMs } = folded;
  if (answer !== 'no-queen' || !doubt?.exact || contradictedAtMs === null || inMs < contradictedAtMs)
    return exact;
  if (contradictions.some(({ kind }) => kind !== 'brood-too-young')) return exact;
  folded.contradictedAtMs = null;
  folded.contradictions.length = 0;
  folded.doubt = null;
  folded.egg.earliestMs = doubt.before.earliestMs;
  folded.egg.latestMs = doubt.before.latestMs;
  folded.egg.restsOn.push('queen cells on the test frame: what looked too young was not');
  return true;
}

/** The date from before stays on record beside the later one. */
function laterLoss(folded: Folded, atMs: number | null): void {
  folded.firstLastEggMs ??= { ms: folded.egg.latestMs };
  if (atMs !== null) folded.laterLosses.push(atMs);
}

/** Eggs of a queen that was brought and is not there any more move the last egg to the end of her time. */
export function endOfHerTime(folded: Folded, firstEggsMs: number, untilMs: number): void {
  laterLoss(folded, untilMs);
  for (const bounds of [folded.egg, folded.queenless]) {
    bounds.earliestMs = firstEggsMs - high(eggStageDays);
    bounds.latestMs = Math.max(bounds.latestMs ?? untilMs, untilMs);
    bounds.restsOn.push('eggs of the queen that was brought');
  }
}

/** A queen that was brought was out until then, long enough to lay, and no look on every frame shows that she did not. */
export function perhapsLaid(folded: Folded, untilMs: number): void {
  laterLoss(folded, untilMs);
  folded.perhapsLaidUntilMs = untilMs;
  for (const bounds of [folded.egg, folded.queenless]) {
    if (bounds.latestMs === null) continue;
    bounds.latestMs = Math.max(bounds.latestMs, untilMs);
    bounds.restsOn.push('a queen that was brought may have laid until then');
  }
}

/** A frame with open brood brought in moves the last fertile egg; sealed brood does not. */
export function broughtIn(folded: Folded, { atMs, fact }: EffectiveFact<'brood-frame-added'>): void {
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

/** One sight, on no test frame and of no queen that was brought. Returns whether the bounds are exact still. */
export function foldSight(folded: Folded, sight: BroodSight, exact: boolean): boolean {
  const contradiction = lateLarva(folded, sight, exact) ?? narrow(folded, sight, exact);
  if (sight.youngest !== null && sight.everyFrame && sight.shaken) folded.nothingLaid = nothingLays(sight);
  if (contradiction) {
    folded.contradictions.push(contradiction);
    folded.contradictedAtMs = sight.atMs;
    return false;
  }
  return settleDoubt(folded, sight) ?? exact;
}

/** A laying queen taken away, by the keeper’s own act: from this instant on the box is queenless, and no later egg is fertile. */
export function removeQueen(folded: Folded, { atMs, fact }: EffectiveFact<'queen-removed'>): void {
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
