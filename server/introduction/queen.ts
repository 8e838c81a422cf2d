/** The queen that is being introduced: where she is, and since when. */
import type { EffectiveFact } from './effective-facts.ts';
import type { IntroductionMethod } from './facts.ts';

export interface QueenState {
  readonly queenId: string | null;
  readonly where:
    'not-here' | 'arrived' | 'in-cage' | 'released' | 'seen-loose' | 'taken-out' | 'dead' | 'gone';
  readonly arrivedAtMs: number | null;
  readonly cageHungAtMs: number | null;
  /** She is in a cage in the nuc since then; null when she is not. */
  readonly inCageSinceMs: number | null;
  /** The candy end was opened, or the mesh lifted from over her. */
  readonly releasedAtMs: number | null;
  readonly lastSeenAtMs: number | null;
  readonly firstEggsAtMs: number | null;
  readonly sealedWorkerBroodAtMs: number | null;
  readonly deadAtMs: number | null;
}

const nowhere: QueenState = {
  queenId: null,
  where: 'not-here',
  arrivedAtMs: null,
  cageHungAtMs: null,
  inCageSinceMs: null,
  releasedAtMs: null,
  lastSeenAtMs: null,
  firstEggsAtMs: null,
  sealedWorkerBroodAtMs: null,
  deadAtMs: null,
};

const released = (queen: QueenState, atMs: number): QueenState => ({
  ...queen,
  where: 'released',
  inCageSinceMs: null,
  releasedAtMs: queen.releasedAtMs ?? atMs,
});

const dead = (queen: QueenState, atMs: number): QueenState => ({
  ...queen,
  where: 'dead',
  inCageSinceMs: null,
  deadAtMs: atMs,
});

function looked(
  queen: QueenState,
  atMs: number,
  seen: Extract<EffectiveFact['fact'], { kind: 'looked-for-queen' }>,
): QueenState {
  const fertile = seen.eggsSeen && !seen.severalEggsACell;
  const stillCaged = queen.where === 'in-cage' && !seen.cageEmpty;
  // Out of a cage that nobody opened: she is loose all the same.
  const releasedAtMs = queen.releasedAtMs ?? (queen.where === 'in-cage' && seen.cageEmpty ? atMs : null);
  const out = releasedAtMs !== null;
  const gone = out && seen.cageEmpty && !seen.queenSeen && !seen.eggsSeen;
  const whereNow = (): QueenState['where'] => {
    if (stillCaged) return 'in-cage';
    if (seen.queenSeen) return 'seen-loose';
    if (queen.where === 'dead') return 'dead';
    return gone ? 'gone' : out ? 'released' : queen.where;
  };
  return {
    ...queen,
    where: whereNow(),
    inCageSinceMs: stillCaged ? queen.inCageSinceMs : null,
    releasedAtMs,
    lastSeenAtMs: seen.queenSeen ? atMs : queen.lastSeenAtMs,
    firstEggsAtMs: queen.firstEggsAtMs ?? (fertile && out ? atMs : null),
    sealedWorkerBroodAtMs: queen.sealedWorkerBroodAtMs ?? (seen.sealedWorkerBroodSeen ? atMs : null),
  };
}

function step(queen: QueenState, { atMs, fact }: EffectiveFact, method: IntroductionMethod): QueenState {
  switch (fact.kind) {
    case 'queen-arrived':
      if (fact.condition === 'dead') return { ...dead(queen, atMs), queenId: fact.queenId };
      return { ...nowhere, queenId: fact.queenId, where: 'arrived', arrivedAtMs: atMs, lastSeenAtMs: atMs };
    case 'cage-hung': {
      const hung: QueenState = {
        ...(queen.queenId === fact.queenId ? queen : nowhere),
        queenId: fact.queenId,
        where: 'in-cage',
        cageHungAtMs: atMs,
        inCageSinceMs: atMs,
        releasedAtMs: null,
        deadAtMs: null,
      };
      return fact.candyEnd === 'open' && method === 'candy-cage' ? released(hung, atMs) : hung;
    }
    case 'cage-checked':
      return fact.queenAlive ? { ...queen, lastSeenAtMs: atMs } : dead(queen, atMs);
    case 'cage-taken-out': {
      if (queen.where !== 'in-cage') return queen;
      const left = fact.queen ?? (method === 'push-in-cage' ? 'left-in-nuc' : 'in-the-cage');
      return left === 'left-in-nuc'
        ? released(queen, atMs)
        : { ...queen, where: 'taken-out', inCageSinceMs: null };
    }
    case 'candy-opened':
      return released(queen, atMs);
    case 'looked-for-queen':
      return looked(queen, atMs, fact);
    case 'balled':
      return fact.rescued ? { ...queen, where: 'taken-out', inCageSinceMs: null } : dead(queen, atMs);
    case 'queen-dead':
      return dead(queen, atMs);
    default:
      return queen;
  }
}

export const foldQueen = (facts: readonly EffectiveFact[], method: IntroductionMethod): QueenState =>
  facts.reduce((queen, fact) => step(queen, fact, method), nowhere);
