/** A probe that lies elsewhere since a visit: the level moves at once and stays. */
import { between, hourMs } from '../series.ts';
import { median } from '../statistics/robust.ts';
import type { KnownEvent, ProbeJump, Series } from '../types.ts';

const leastJumpC = 1.5;

/** Jumps of the brood level across each logged visit: the three hours before against two to five hours after it. */
export function probeJumps(brood: Series, events: readonly KnownEvent[]): ProbeJump[] {
  return events.flatMap((event) => {
    const before = between(brood, event.atMs - 3.5 * hourMs, event.atMs - 0.5 * hourMs).value;
    const after = between(brood, event.atMs + 2 * hourMs, event.atMs + 5 * hourMs).value;
    if (before.length < 4 || after.length < 4) return [];
    const fromC = median(before);
    const toC = median(after);
    return Math.abs(toC - fromC) < leastJumpC ? [] : [{ atMs: event.atMs, fromC, toC, explainedBy: event }];
  });
}

/** The latest of them up to `nowMs`; −Infinity where the probe stayed where it lay. */
export const lastJumpMs = (brood: Series, events: readonly KnownEvent[], nowMs: number): number =>
  Math.max(
    -Infinity,
    ...probeJumps(brood, events)
      .map((jump) => jump.atMs)
      .filter((atMs) => atMs <= nowMs),
  );
