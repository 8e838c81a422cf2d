/** A probe that lies elsewhere since a visit: the level moves at once and stays. */
import { probeMoveJumpK } from '../../biology/nest-figures.ts';
import { between, hourMs } from '../series.ts';
import { median } from '../statistics/robust.ts';
import type { KnownEvent, ProbeJump, Series } from '../types.ts';

const leastJumpC = probeMoveJumpK.value;
/** Method: what is compared on both sides of a visit, hours from it: the box is closed and settled. */
const sides = { before: [3.5, 0.5], after: [2, 5], leastReadings: 4 } as const;

/** Jumps of the brood level across each logged visit: the three hours before against two to five hours after it. */
export function probeJumps(brood: Series, events: readonly KnownEvent[]): ProbeJump[] {
  return events.flatMap((event) => {
    const before = between(
      brood,
      event.atMs - sides.before[0] * hourMs,
      event.atMs - sides.before[1] * hourMs,
    ).value;
    const after = between(
      brood,
      event.atMs + sides.after[0] * hourMs,
      event.atMs + sides.after[1] * hourMs,
    ).value;
    if (before.length < sides.leastReadings || after.length < sides.leastReadings) return [];
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
