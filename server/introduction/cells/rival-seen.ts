/** A virgin that was seen beside a queen that had been let out. */
import { lookAgainForQueenDays } from '../../biology/figures.ts';
import { addDays } from '../calendar.ts';
import { lastOf, ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import { emergedByMs, type CellLook } from '../log/looks.ts';
import type { QueenState } from '../queen/queen-state.ts';
import type { IntroductionSetup } from '../log/setup.ts';

interface Known {
  readonly setup: IntroductionSetup;
  readonly facts: readonly EffectiveFact[];
  readonly queen: QueenState;
  readonly looks: { readonly all: readonly CellLook[] };
}

/**
 * The look that saw her; null where she is logged as taken away since, or the queen was seen days later: by then one
 * has killed the other.
 */
function rivalLook({ looks, queen, facts, setup }: Known): CellLook | null {
  const { releasedAtMs } = queen;
  if (releasedAtMs === null) return null;
  const seen = lastOf(looks.all.filter((look) => look.virginSeen === true && look.atMs >= releasedAtMs));
  if (!seen) return null;
  const decidedMs = addDays(seen.atMs, lookAgainForQueenDays.value, setup.timeZone);
  const taken = ofKind(facts, 'queen-removed').some(
    ({ atMs, fact }) => fact.which !== 'old-queen' && atMs >= seen.atMs,
  );
  const alive = ofKind(facts, 'looked-for-queen').some(
    ({ atMs, fact }) => fact.queenSeen && atMs >= decidedMs,
  );
  return taken || alive ? null : seen;
}

export const rivalSeen = (known: Known): boolean => rivalLook(known) !== null;

/** She is searched for once, on every frame; who does not find her looks for the queen again some days later. */
export function rivalToFind(known: Known): boolean {
  const seen = rivalLook(known);
  return seen !== null && !known.looks.all.some((look) => look.complete && look.atMs > seen.atMs);
}

interface SeenBesideHer {
  readonly looks: { readonly leftStanding: CellLook | null };
  readonly queen: Pick<QueenState, 'releasedAtMs'>;
  readonly nowMs: number;
}

/** The look that saw a living cell since she was let out, if nobody cut it. */
const cellBesideHer = ({
  looks: { leftStanding },
  queen: { releasedAtMs },
}: SeenBesideHer): CellLook | null =>
  releasedAtMs !== null && leftStanding !== null && leftStanding.atMs >= releasedAtMs ? leftStanding : null;

/** A living cell was seen since she was let out, and never cut: its virgin must be out by now. */
export function cellEmerged(known: SeenBesideHer): boolean {
  const seen = cellBesideHer(known);
  return seen !== null && known.nowMs >= emergedByMs(seen);
}

/** Living cells that were seen since she was let out, not cut, and not all opened by now. */
export const cellsAfterRelease = (known: SeenBesideHer): boolean =>
  cellBesideHer(known) !== null && !cellEmerged(known);
