/** A probe that lies elsewhere since a visit: the level moves at once and stays. */
import { probeMoveJumpK } from '../../biology/nest-figures.ts';
import { dayMs } from '../../durations.ts';
import { between, hourMs } from '../series.ts';
import { median } from '../statistics/robust.ts';
import type { KnownEvent, ProbeJump, Series } from '../types.ts';

const leastJumpC = probeMoveJumpK.value;
/** Method: what is compared on both sides of a visit, hours from it: the box is closed and settled. */
const sides = { before: [3.5, 0.5], after: [2, 5], leastReadings: 4 } as const;
/** Method: days beside that of the visit that tell what the nest does at these hours by itself. */
const besideDays = [1, 2, 3];

/** Level before and after an instant; null where too little was read. */
function across(brood: Series, atMs: number): Pick<ProbeJump, 'fromC' | 'toC'> | null {
  const within = (fromH: number, toH: number): Float64Array =>
    between(brood, atMs + fromH * hourMs, atMs + toH * hourMs).value;
  const before = within(-sides.before[0], -sides.before[1]);
  const after = within(...sides.after);
  if (before.length < sides.leastReadings || after.length < sides.leastReadings) return null;
  return { fromC: median(before), toC: median(after) };
}

/** What the level did at the hours of a visit on the days before it, else on those after it, K; visits apart. */
function changesBeside(brood: Series, { atMs }: KnownEvent, events: readonly KnownEvent[]): number[] {
  const on = (days: number): number[] => {
    const thenMs = atMs + days * dayMs;
    const isVisited = events.some(
      (other) =>
        other.atMs > thenMs - sides.before[0] * hourMs && other.atMs < thenMs + sides.after[1] * hourMs,
    );
    const then = isVisited ? null : across(brood, thenMs);
    return then ? [then.toC - then.fromC] : [];
  };
  const before = besideDays.flatMap((days) => on(-days));
  return before.length > 0 ? before : besideDays.flatMap(on);
}

/**
 * Jumps of the brood level across each logged visit: the three hours before against two to five hours after it. A nest that
 * is cool in the morning and warm by noon on other days as well was not moved by the visit.
 */
export function probeJumps(brood: Series, events: readonly KnownEvent[]): ProbeJump[] {
  return events.flatMap((event) => {
    const levels = across(brood, event.atMs);
    if (!levels) return [];
    const change = levels.toC - levels.fromC;
    if (Math.abs(change) < leastJumpC) return [];
    const beside = changesBeside(brood, event, events);
    const isUsual =
      change < Math.max(0, ...beside) + leastJumpC && change > Math.min(0, ...beside) - leastJumpC;
    return isUsual ? [] : [{ atMs: event.atMs, ...levels, explainedBy: event }];
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
