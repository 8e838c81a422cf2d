/** Whether the log shows that no queen walks free in the box. */
import { developmentMs } from '../../biology/duration.ts';
import { eggStageDays, highEnd } from '../../biology/figures.ts';
import { dayNumber } from '../calendar.ts';
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
  /** A laying queen was seen walking free, is not logged as taken away, and nothing shows that she is gone. */
  readonly layingQueenSeen: boolean;
  /** She, or the old queen that is feared, was looked for on two days, and not found: a test frame tells more. */
  readonly searchedInVain: boolean;
}

interface Shown extends ShownQueenless {
  readonly contradictions: readonly Contradiction[];
}

/** The old queen was not seen at the split, and brood was laid since. */
export const oldQueenFeared = ({ queenless, contradictions }: Shown): boolean =>
  queenless === 'contradicted' && lastOf(contradictions)?.kind === 'brood-since-the-split';

/** A laying queen was seen, or brood that only the old one can have laid: she is to be found, as long as looks may find her. */
export const queenToFind = (shown: Shown): boolean =>
  !shown.searchedInVain && (shown.layingQueenSeen || oldQueenFeared(shown));

/** What the sights of brood came to. */
interface BroodFold {
  /** Instant of the last sight that spoke for a queen. */
  readonly contradictedAtMs: number | null;
  readonly contradictions: readonly Contradiction[];
  readonly egg: { readonly latestMs: number | null };
}

/** Looks on every frame, bees shaken off, that say what the youngest brood is. */
const fullLooks = (facts: readonly EffectiveFact[]) =>
  facts
    .flatMap(({ atMs, fact }) =>
      fact.kind === 'inspection' || fact.kind === 'cells-cut' ? [{ atMs, ...fact }] : [],
    )
    .filter((look) => look.youngestBrood !== 'not-looked' && look.everyFrameChecked && look.beesShakenOff);

type FullLook = ReturnType<typeof fullLooks>[number];

/** No egg and no young larva, an egg stage or more after that instant: no queen has laid in it since. */
const nothingLaidSince = (look: FullLook, sinceMs: number): boolean =>
  nothingYoungSeen(look) &&
  look.severalEggsACell !== true &&
  look.atMs >= sinceMs + developmentMs(highEnd(eggStageDays));

function nothingYoung(facts: readonly EffectiveFact[], splitMs: number): boolean {
  const last = lastOf(fullLooks(facts));
  return last !== undefined && nothingLaidSince(last, splitMs);
}

interface Known {
  readonly frames: readonly TestFrame[];
  /** Inspections that met the queen that had been let out. */
  readonly metAtMs: readonly number[];
}

/** When a laying queen that nobody let out was last seen to walk free; null where she is taken away since, or shown to be gone. */
function walksSinceMs(facts: readonly EffectiveFact[], { frames, metAtMs }: Known): number | null {
  const seen = lastOf(
    ofKind(facts, 'inspection').filter(({ atMs, fact }) => fact.layingQueenSeen && !metAtMs.includes(atMs)),
  );
  if (seen === undefined) return null;
  const { atMs: seenMs } = seen;
  const gone =
    layingQueenRemoved(facts).some(({ atMs }) => atMs >= seenMs) ||
    frames.some((frame) => frame.answer === 'no-queen' && frame.inMs >= seenMs);
  return gone ? null : seenMs;
}

/** Looks on so many days that did not find her, before a test frame is worth its trouble. */
const daysBeforeTestFrame = 2;

/** Later looks on every frame, on days of their own, did not find her; or no egg of hers is left. */
function inVain(facts: readonly EffectiveFact[], sinceMs: number, timeZone: string): boolean {
  const looks = fullLooks(facts);
  if (looks.some((look) => nothingLaidSince(look, sinceMs))) return true;
  const days = looks.map(({ atMs }) => dayNumber(sinceMs, atMs, timeZone)).filter((day) => day > 0);
  return new Set(days).size >= daysBeforeTestFrame;
}

export function shownQueenless(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  folded: BroodFold,
  known: Known,
): ShownQueenless {
  const { timeZone } = setup;
  const seenMs = walksSinceMs(facts, known);
  if (seenMs !== null)
    return {
      queenless: 'contradicted',
      queenlessWhy: 'a laying queen was seen walking free',
      layingQueenSeen: true,
      searchedInVain: inVain(facts, seenMs, timeZone),
    };
  const feared = folded.contradictions.find(({ kind }) => kind === 'brood-since-the-split');
  return {
    ...queenlessByBrood(setup, facts, folded, known.frames),
    layingQueenSeen: false,
    searchedInVain: feared !== undefined && inVain(facts, feared.atMs, timeZone),
  };
}

function queenlessByBrood(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  folded: BroodFold,
  frames: readonly TestFrame[],
): Omit<ShownQueenless, 'layingQueenSeen' | 'searchedInVain'> {
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
