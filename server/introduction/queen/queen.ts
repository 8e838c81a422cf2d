/** The queen that is being introduced: where she is, and since when, folded from the log. */
import { candyEatenMs } from './candy.ts';
import { deathsOnce } from '../log/deaths.ts';
import { ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import type { IntroductionMethod } from '../log/facts.ts';
import { withLook } from '../log/looks.ts';
import {
  asLook,
  behindCandy,
  metHer,
  noEggLeft,
  perhapsAnothers,
  sawHerEggs,
  type Look,
} from './what-looks-tell.ts';
import {
  another,
  cameToHand,
  dead,
  inHand,
  mayBeOut,
  nowhere,
  released,
  strangerSeen,
  strangerTaken,
  takenOut,
  type QueenState,
  type TimeOut,
} from './queen-state.ts';
import { testFrames, type TestFrame } from '../log/test-frames.ts';

type Fact<K extends EffectiveFact['fact']['kind']> = Extract<EffectiveFact['fact'], { kind: K }>;

function looked(before: QueenState, atMs: number, seen: Look, { method, facts }: Known): QueenState {
  const queen = seen.queenSeen ? foundAgain(before, atMs) : before;
  const asQueens = seen.eggsSeen && !seen.severalEggsACell && seen.eggsStand !== 'walls';
  // She or attendants may sit in it: nobody can say whose eggs they are.
  const whose = method === 'candy-cage' && queen.where === 'released' && !seen.cageEmpty && asQueens;
  const fertile = asQueens && !whose && !perhapsAnothers(facts, atMs);
  // Her way out may be open, and she not through it yet.
  const uneaten = method === 'candy-cage' && queen.where === 'released' && !asQueens;
  const inItsTime =
    queen.where === 'released' && behindCandy(atMs, seen, queen.releasedAtMs ?? Infinity, method);
  const stillCaged = !inItsTime && (queen.where === 'in-cage' || uneaten) && !seen.cageEmpty;
  // Out of a cage that nobody opened, or back after she flew off: she is loose all the same.
  const gotOut =
    queen.releasedAtMs === null &&
    ((queen.where === 'in-cage' && seen.cageEmpty) || (queen.where === 'gone' && seen.queenSeen));
  const releasedAtMs = gotOut ? atMs : queen.releasedAtMs;
  const out = releasedAtMs !== null;
  const found = seen.queenSeen || fertile;
  const missed = (out || queen.earlierMayBeOut) && seen.cageEmpty && !seen.queenSeen && !seen.eggsSeen;
  const whereNow = (): QueenState['where'] => {
    if (stillCaged) return 'in-cage';
    if (inItsTime) return 'released';
    if (seen.queenSeen && !whose) return 'seen-loose';
    if (queen.where === 'dead') return 'dead';
    if (queen.where === 'gone') return fertile ? 'released' : 'gone';
    return out ? 'released' : queen.where;
  };
  return {
    ...queen,
    where: whereNow(),
    inCageSinceMs: stillCaged ? (queen.inCageSinceMs ?? queen.cageHungAtMs) : null,
    releasedAtMs,
    cageEmptyAtMs: queen.cageEmptyAtMs ?? (out && seen.cageEmpty ? atMs : null),
    outByAccident: queen.outByAccident || gotOut,
    stillInCageAtMs: inItsTime ? atMs : queen.stillInCageAtMs,
    eggsBesideCageAtMs: whose ? atMs : null,
    lastSeenAtMs: seen.queenSeen && !whose ? atMs : queen.lastSeenAtMs,
    lastLookedAtMs: inItsTime ? queen.lastLookedAtMs : atMs,
    firstEggsAtMs: queen.firstEggsAtMs ?? (fertile && out ? atMs : null),
    sealedWorkerBroodAtMs: queen.sealedWorkerBroodAtMs ?? (seen.sealedWorkerBroodSeen ? atMs : null),
    notFoundAtMs: found ? [] : missed ? withLook(queen.notFoundAtMs, atMs) : queen.notFoundAtMs,
  };
}

/** The queen that was let out before is there after all, and no other hangs in the nuc. */
const foundAgain = (queen: QueenState, atMs: number): QueenState =>
  queen.earlierMayBeOut && queen.where !== 'in-cage' && queen.releasedAtMs === null
    ? { ...queen, releasedAtMs: queen.earlierOutSinceMs ?? atMs, earlierMayBeOut: false }
    : queen;

/** Who was seen, and whose eggs, is open again: they may have been those of the one that was taken. */
const anotherTaken = (queen: QueenState, atMs: number): QueenState => ({
  ...queen,
  where: 'released',
  firstEggsAtMs: null,
  sealedWorkerBroodAtMs: null,
  lastLookedAtMs: null,
  notFoundAtMs: [atMs],
});

function removed(queen: QueenState, atMs: number, which: Fact<'queen-removed'>['which']): QueenState {
  const left = which === 'old-queen' ? { ...queen, earlierMayBeOut: false } : queen;
  if (which === 'virgin' || !mayBeOut(queen)) return strangerTaken(left);
  const nothingSeen = queen.where === 'released' && queen.firstEggsAtMs === null;
  return which === 'old-queen' && nothingSeen ? left : anotherTaken(left, atMs);
}

/** Cells on a test frame, put in after she was not found, or after a stranger was seen, conclude it. */
function concluded(queen: QueenState, frame: TestFrame | undefined): QueenState {
  if (frame?.answer === 'no-queen' && strangerSeen(queen) && frame.inMs >= (queen.lastSeenAtMs ?? Infinity))
    return strangerTaken(queen);
  const [firstMissed] = queen.notFoundAtMs;
  if (frame?.answer !== 'no-queen' || firstMissed === undefined || frame.inMs < firstMissed) return queen;
  return {
    ...queen,
    where: mayBeOut(queen) ? 'gone' : queen.where,
    notFoundAtMs: [],
    earlierMayBeOut: false,
  };
}

function arrived(queen: QueenState, atMs: number, fact: Fact<'queen-arrived'>): QueenState {
  if (fact.condition === 'dead') {
    if (queen.where === 'in-cage' && fact.queenId !== queen.queenId) return queen;
    return { ...dead(another(queen, fact.queenId), atMs), queenId: fact.queenId };
  }
  const { queenId } = fact;
  const arrival = { queenId, atMs, origin: fact.origin ?? null, daysInPost: fact.daysInPost ?? null };
  if (queen.where === 'in-cage' && queenId !== queen.queenId) return { ...queen, spare: arrival };
  // Her own arrival, written down with a later hour than what was done with her.
  if (fact.queenId === queen.queenId && (queen.where === 'in-cage' || mayBeOut(queen)))
    return {
      ...queen,
      arrivedAtMs: queen.arrivedAtMs ?? queen.cageHungAtMs ?? atMs,
      origin: queen.origin ?? fact.origin ?? null,
      daysInPost: queen.daysInPost ?? fact.daysInPost ?? null,
    };
  return cameToHand(queen, arrival);
}

function hung(
  queen: QueenState,
  atMs: number,
  fact: Fact<'cage-hung'>,
  method: IntroductionMethod,
): QueenState {
  const inCage: QueenState = {
    ...(queen.queenId === fact.queenId
      ? queen
      : queen.spare?.queenId === fact.queenId
        ? cameToHand(queen, queen.spare)
        : another(queen, fact.queenId)),
    queenId: fact.queenId,
    where: 'in-cage',
    cageHungAtMs: atMs,
    besideAnother: queen.besideAnother || (queen.where === 'in-cage' && queen.queenId !== fact.queenId),
    inCageSinceMs: atMs,
    releasedAtMs: null,
    cageEmptyAtMs: null,
    stillInCageAtMs: null,
    outByAccident: false,
    // What was seen of her brood before she was caged again says nothing of the next time.
    firstEggsAtMs: null,
    sealedWorkerBroodAtMs: null,
    deadAtMs: null,
    lastLookedAtMs: null,
  };
  return fact.candyEnd === 'open' && method === 'candy-cage' ? released(inCage, atMs) : inCage;
}

interface Known {
  readonly method: IntroductionMethod;
  readonly facts: readonly EffectiveFact[];
  readonly frames: readonly TestFrame[];
  /** When an old queen was taken away: a look of that minute met her. */
  readonly oldTakenMs: ReadonlySet<number>;
}

function step(queen: QueenState, { atMs, fact }: EffectiveFact, known: Known): QueenState {
  const { method, frames, oldTakenMs } = known;
  switch (fact.kind) {
    case 'queen-arrived':
      return arrived(queen, atMs, fact);
    case 'cage-hung':
      return hung(queen, atMs, fact, method);
    case 'cage-checked':
      return fact.queenAlive
        ? {
            ...queen,
            lastSeenAtMs: atMs,
            stillInCageAtMs: queen.where === 'released' ? atMs : queen.stillInCageAtMs,
          }
        : dead(queen, atMs);
    case 'cage-taken-out': {
      if (queen.where === 'in-cage' && queen.besideAnother) return { ...queen, besideAnother: false };
      if (fact.forAnotherNuc === true && (queen.where === 'in-cage' || inHand(queen)))
        return queen.spare ? cameToHand(queen, queen.spare) : another(queen, '');
      if (queen.where !== 'in-cage') return queen;
      const left = fact.queen ?? (method === 'push-in-cage' ? 'left-in-nuc' : 'in-the-cage');
      return left === 'left-in-nuc'
        ? { ...released(queen, atMs), cageEmptyAtMs: method === 'candy-cage' ? atMs : null }
        : takenOut(queen, atMs);
    }
    case 'candy-opened':
      return released(queen, atMs);
    case 'looked-for-queen': {
      const met = looked(queen, atMs, fact, known);
      return oldTakenMs.has(atMs) ? removed(met, atMs, 'old-queen') : met;
    }
    case 'inspection': {
      // One that flew off and lays in it came back.
      const back = queen.where === 'gone' && queen.releasedAtMs === null && fact.layingQueenSeen === true;
      if (!mayBeOut(queen) && !back) return queen;
      const releasedAtMs = queen.releasedAtMs ?? Infinity;
      const met = back || metHer(atMs, fact, releasedAtMs);
      const sought = queen.firstEggsAtMs === null || queen.notFoundAtMs.length > 0;
      const hers = sought && sawHerEggs(atMs, fact, releasedAtMs);
      if (!met && !hers && !noEggLeft(queen, fact)) return queen;
      const look = looked(queen, atMs, asLook(fact), known);
      // Eggs that came with a frame, or of the queen before, do not show that she is out.
      const isOut = met || !perhapsAnothers(known.facts, atMs);
      const seen = isOut ? look : { ...look, cageEmptyAtMs: queen.cageEmptyAtMs };
      return met ? { ...seen, metAtMs: [...seen.metAtMs, atMs] } : seen;
    }
    case 'brood-frame-taken':
      return concluded(
        queen,
        frames.find((frame) => frame.outMs === atMs),
      );
    case 'queen-removed':
      return removed(queen, atMs, fact.which);
    case 'queen-escaped':
      return fact.to === 'outside'
        ? { ...queen, where: 'gone', inCageSinceMs: null }
        : { ...released(queen, atMs), outByAccident: queen.releasedAtMs === null };
    case 'balled':
      return fact.rescued ? takenOut(queen, atMs) : dead(queen, atMs);
    case 'queen-dead':
      return dead(queen, atMs);
    default:
      return queen;
  }
}

const canLay = (queen: QueenState, method: IntroductionMethod): boolean =>
  mayBeOut(queen) || (method === 'push-in-cage' && queen.where === 'in-cage');

/** When she came out of the cage in this time, as far as anybody saw; its end where she sat in it all the while. */
function freeFromMs(before: QueenState, now: QueenState, { fromMs }: TimeOut, atMs: number): number {
  const { cageEmptyAtMs, stillInCageAtMs, outByAccident, releasedAtMs, cageHungAtMs } = before;
  if (releasedAtMs === null || outByAccident) return fromMs;
  if (now.where === 'in-cage' && now.cageHungAtMs === cageHungAtMs) return atMs;
  const eatenMs = Math.max(candyEatenMs(releasedAtMs), stillInCageAtMs ?? -Infinity);
  return Math.min(eatenMs, cageEmptyAtMs ?? Infinity);
}

function timesOut(before: QueenState, now: QueenState, atMs: number, method: IntroductionMethod): QueenState {
  const could = canLay(before, method);
  if (could === canLay(now, method)) return now;
  const { couldLay } = now;
  const ended = (time: TimeOut): TimeOut => ({
    ...time,
    untilMs: atMs,
    freeFromMs: method === 'candy-cage' ? freeFromMs(before, now, time, atMs) : time.fromMs,
  });
  return {
    ...now,
    couldLay: could
      ? couldLay.map((time) => (time.untilMs === null ? ended(time) : time))
      : [...couldLay, { fromMs: atMs, untilMs: null }],
  };
}

export function foldQueen(facts: readonly EffectiveFact[], method: IntroductionMethod): QueenState {
  const oldTaken = ofKind(facts, 'queen-removed').filter(({ fact }) => fact.which === 'old-queen');
  const oldTakenMs = new Set(oldTaken.map(({ atMs }) => atMs));
  const known = { method, facts, frames: testFrames(facts), oldTakenMs };
  return deathsOnce(facts).reduce(
    (queen, fact) => timesOut(queen, step(queen, fact, known), fact.atMs, method),
    nowhere,
  );
}
