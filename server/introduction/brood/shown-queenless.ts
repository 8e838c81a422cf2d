/** Whether the log shows that no queen walks free in the box. */
import { developmentMs } from '../../biology/duration.ts';
import { eggStageDays, highEnd } from '../../biology/figures.ts';
import { nothingYoungSeen } from './brood-sights.ts';
import type { Contradiction } from '../log/contradictions.ts';
import { lastOf, ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import type { IntroductionSetup } from '../log/setup.ts';
import type { TestFrame } from '../log/test-frames.ts';

/** Queens that laid and were taken away: the old one, or one that the colony raised. */
const layingQueenRemoved = (facts: readonly EffectiveFact[]): readonly EffectiveFact<'queen-removed'>[] =>
  ofKind(facts, 'queen-removed').filter(({ fact }) => fact.which !== 'virgin');

export interface ShownQueenless {
  /** Whether it is shown that no queen walks free in the box. */
  readonly queenless: 'shown' | 'not-shown' | 'contradicted';
  readonly queenlessWhy: string;
  /** A laying queen was seen walking free, and is not logged as taken away. */
  readonly layingQueenSeen: boolean;
}

interface Shown extends ShownQueenless {
  readonly contradictions: readonly Contradiction[];
}

/** The old queen was not seen at the split, and brood was laid since. */
export const oldQueenFeared = ({ queenless, contradictions }: Shown): boolean =>
  queenless === 'contradicted' && lastOf(contradictions)?.kind === 'brood-since-the-split';

/** A laying queen was seen, or brood that only the old one can have laid: she is to be found. */
export const queenToFind = (shown: Shown): boolean => shown.layingQueenSeen || oldQueenFeared(shown);

/** What the sights of brood came to. */
interface BroodFold {
  /** Instant of the last sight that spoke for a queen. */
  readonly contradictedAtMs: number | null;
  readonly contradictions: readonly Contradiction[];
  readonly egg: { readonly latestMs: number | null };
}

/** The last look on every frame found no egg and no young larva, an egg stage or more after the split: no queen lays in it. */
function nothingYoung(facts: readonly EffectiveFact[], splitMs: number): boolean {
  const looks = facts.flatMap(({ atMs, fact }) =>
    fact.kind === 'inspection' || fact.kind === 'cells-cut' ? [{ atMs, ...fact }] : [],
  );
  const last = lastOf(
    looks.filter(
      (look) => look.youngestBrood !== 'not-looked' && look.everyFrameChecked && look.beesShakenOff,
    ),
  );
  return (
    last !== undefined &&
    nothingYoungSeen(last) &&
    last.severalEggsACell !== true &&
    last.atMs >= splitMs + developmentMs(highEnd(eggStageDays))
  );
}

function layingQueenWalks(facts: readonly EffectiveFact[]): boolean {
  const seen = lastOf(facts.filter(({ fact }) => fact.kind === 'inspection' && fact.layingQueenSeen));
  return seen !== undefined && !layingQueenRemoved(facts).some(({ atMs }) => atMs >= seen.atMs);
}

export function shownQueenless(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  folded: BroodFold,
  frames: readonly TestFrame[],
): ShownQueenless {
  return layingQueenWalks(facts)
    ? {
        queenless: 'contradicted',
        queenlessWhy: 'a laying queen was seen walking free',
        layingQueenSeen: true,
      }
    : { ...queenlessByBrood(setup, facts, folded, frames), layingQueenSeen: false };
}

function queenlessByBrood(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  folded: BroodFold,
  frames: readonly TestFrame[],
): Omit<ShownQueenless, 'layingQueenSeen'> {
  const answered = lastOf(frames.filter((frame) => frame.answer === 'no-queen'));
  const since = folded.contradictedAtMs;
  if (since !== null && !(answered?.outMs && answered.inMs >= since)) {
    return { queenless: 'contradicted', queenlessWhy: lastOf(folded.contradictions)?.text ?? '' };
  }
  if (answered) {
    return { queenless: 'shown', queenlessWhy: 'bees started queen cells on the test frame' };
  }
  const split = ofKind(facts, 'split-made')[0];
  if (!split && setup.carried?.queenMayBeOut && layingQueenRemoved(facts).length === 0) {
    return {
      queenless: 'contradicted',
      queenlessWhy:
        'the queen of the introduction before was let out, and that she was not found does not show that she is gone',
    };
  }
  if (split && split.fact.oldQueen !== 'not-seen') {
    return { queenless: 'shown', queenlessWhy: 'the old queen was seen and is in the parent colony' };
  }
  if (layingQueenRemoved(facts).length > 0) {
    return { queenless: 'shown', queenlessWhy: 'the queen that was found was taken away' };
  }
  if (setup.carried?.queenlessSince.latestMs) {
    return { queenless: 'shown', queenlessWhy: 'known from the introduction before' };
  }
  // Swarm cells stand beside a queen: those that were left of them show nothing.
  const emergency = !split || split.fact.cellsAlreadyThere === 'none';
  const cells = facts.some(
    ({ fact }) =>
      emergency &&
      (fact.kind === 'cells-cut' || fact.kind === 'inspection') &&
      (fact.cells.open ?? 0) + (fact.cells.sealed ?? 0) > 0,
  );
  if (cells && folded.egg.latestMs !== null) {
    return { queenless: 'shown', queenlessWhy: 'queen cells stand and no egg is left' };
  }
  if (split && nothingYoung(facts, split.atMs)) {
    return { queenless: 'shown', queenlessWhy: 'no egg and no young larva was found on any frame' };
  }
  return {
    queenless: 'not-shown',
    queenlessWhy: split
      ? 'the old queen was not seen when the split was made: she may be in it'
      : 'nothing in the log shows that no queen is in the box',
  };
}
