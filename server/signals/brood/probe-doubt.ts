/** Since when a probe's readings may not be the nest's: one pass over them, in which doubt begins and ends. */
import {
  coldForHours,
  coldsDoingShare,
  heldWarmthHours,
  heldWarmthShare,
  littleWarmthHours,
  nestRiseHours,
  nestRiseK,
  outsideNestShare,
  probeAtEdgeK,
  provenInNestHours,
  provenInNestShare,
  suddenFallK,
  suddenFallMinutes,
  visitColdMinutes,
  putBackHours,
  putBackProvenHours,
} from '../../biology/nest-figures.ts';
import { lowEnd } from '../../biology/figure.ts';
import { broodNestC, sealedBroodColdC } from '../../biology/thermal-figures.ts';
import { valueAt } from '../bins.ts';
import { hourMs, minuteMs } from '../series.ts';
import type { ProbePlace, Series } from '../types.ts';
import { dayMs } from '../../durations.ts';

export const coldC = sealedBroodColdC.value;
/** A probe may sit at the edge of the brood. */
const warmC = lowEnd(broodNestC) - probeAtEdgeK.value;
export const suddenK = suddenFallK.value;
const suddenMs = suddenFallMinutes.value * minuteMs;
const heldShare = heldWarmthShare.value;
export const heldForMs = heldWarmthHours.value * hourMs;
const littleForMs = littleWarmthHours.value * hourMs;
const longMs = coldForHours.value * hourMs;
/** Once in doubt it takes most of a day. */
const provenMs = provenInNestHours.value * hourMs;
const regulatedShare = provenInNestShare.value;
const unregulatedShare = outsideNestShare.value;
const coldsDoing = coldsDoingShare.value;
const risingK = nestRiseK.value;
const risingMs = nestRiseHours.value * hourMs;
const visitMs = visitColdMinutes.value * minuteMs;
const putBackMs = putBackHours.value * hourMs;
const putBackProvenMs = putBackProvenHours.value * hourMs;

interface Doubt {
  readonly sinceMs: number;
  readonly how: NonNullable<ProbePlace['how']>;
  readonly heldK: number;
  readonly usualK: number;
}

type Ended = Pick<ProbePlace, 'putBackMs' | 'doubts'>;

/** The doubt that stands at the end of the readings, null where they read as a nest does; those that ended, and how the last did. */
export function lastDoubt(
  brood: Series,
  outside: Readonly<Record<'box' | 'combs', Series>>,
  visits: readonly number[],
  canHoldK: number,
): Ended & { readonly doubt: Doubt | null } {
  const [warmFor, ofDay, ofTwoDays] = [
    warmForMs(brood),
    warmShare(brood, dayMs),
    warmShare(brood, 2 * dayMs),
  ];
  /** What it held above the outside while it was warm and in no doubt, K; else NaN. */
  const held = new Float64Array(brood.atMs.length).fill(NaN);
  let doubt: Doubt | null = null;
  let ended: Ended = { putBackMs: null, doubts: [] };
  /** Whether it has been as warm as brood for long enough to be taken for the nest. */
  let isProven = false;
  let [coldSinceMs, littleSinceMs, unprovenSinceMs, usualK] = [NaN, NaN, NaN, NaN];
  for (let i = 0; i < brood.atMs.length; i++) {
    const atMs = brood.atMs[i] as number;
    const tempC = brood.value[i] as number;
    const heldK = tempC - valueAt(outside.box, atMs, 2 * hourMs);
    const warmMs = warmFor[i] as number;
    const shareOfDay = ofDay[i] as number;
    const warmSinceMs = atMs - warmMs;
    const putBack: number | null = doubt && placedAnew(doubt, visits, warmSinceMs, putBackMs);
    if (warmMs >= provenMs || (tempC >= warmC && shareOfDay >= regulatedShare)) {
      const holdsAgain = doubt !== null && heldK >= heldShare * doubt.usualK;
      const lateBack: number | null = doubt && placedAnew(doubt, visits, warmSinceMs, dayMs);
      if (doubt && (shareOfDay >= regulatedShare || lateBack || holdsAgain))
        [doubt, ended] = [null, endedAt(atMs, doubt, ended, lateBack)];
      isProven = true;
    } else if (doubt && putBack && warmMs >= putBackProvenMs) {
      [doubt, ended] = [null, endedAt(atMs, doubt, ended, putBack)];
      isProven = true;
    }
    if (tempC >= coldC) {
      [coldSinceMs, littleSinceMs, unprovenSinceMs] = [NaN, NaN, NaN];
      if (doubt === null) held[i] = heldK;
      continue;
    }
    if (doubt) continue;
    if (Number.isNaN(coldSinceMs)) {
      coldSinceMs = atMs;
      usualK = mostHeld(brood.atMs, held, i);
    }
    const isRising = tempC - valueAt(brood, atMs - risingMs, hourMs) >= risingK;
    // A weak nuc that holds what its bees can is cold for being weak; in a morning its combs are still as cold as the night.
    const overCombsK = tempC - valueAt(outside.combs, atMs, 2 * hourMs);
    const doesItsMost = Math.max(heldK, overCombsK) >= coldsDoing * canHoldK;
    const isColdsDoing = isRising || doesItsMost || heldK >= coldsDoing * usualK;
    if ((ofTwoDays[i] as number) < unregulatedShare && !isColdsDoing) isProven = false;
    // The newest hours of the outside are known in part only: what one reading says may be taken back by the next.
    if (isProven || doesItsMost) unprovenSinceMs = NaN;
    else if (Number.isNaN(unprovenSinceMs)) unprovenSinceMs = atMs;
    if (isRising || doesItsMost || !(heldK < heldShare * usualK)) littleSinceMs = NaN;
    else if (Number.isNaN(littleSinceMs)) littleSinceMs = atMs;
    const isAtVisit = visits.some((at) => Math.abs(at - coldSinceMs) <= visitMs);
    const how = isProven
      ? howInDoubt(
          !isAtVisit && fellAtOnce(brood, i),
          atMs - littleSinceMs,
          isColdsDoing ? 0 : atMs - coldSinceMs,
        )
      : atMs - (brood.atMs[0] as number) >= provenMs && atMs - unprovenSinceMs >= littleForMs
        ? 'never-warm'
        : null;
    if (how) doubt = { sinceMs: coldSinceMs, how, heldK, usualK };
  }
  return { doubt, ...ended };
}

const endedAt = (atMs: number, { sinceMs }: Doubt, { doubts }: Ended, putBackMs: number | null): Ended => ({
  putBackMs,
  doubts: [...doubts, { fromMs: sinceMs, toMs: atMs }],
});

/** The visit since the doubt at which the probe came to be warm; null where none did that. */
function placedAnew(
  { sinceMs }: Doubt,
  visits: readonly number[],
  warmSinceMs: number,
  withinMs: number,
): number | null {
  const fits = (visitMs: number): boolean =>
    visitMs > sinceMs && warmSinceMs >= visitMs - hourMs && warmSinceMs <= visitMs + withinMs;
  return visits.find(fits) ?? null;
}

function howInDoubt(isSudden: boolean, littleForNowMs: number, coldForMs: number): Doubt['how'] | null {
  if (isSudden) return 'sudden';
  if (littleForNowMs >= littleForMs) return 'held-more';
  return coldForMs >= longMs ? 'long' : null;
}

/** Of each reading: for how long without a break it has been as warm as brood, ms; NaN where it is not. */
function warmForMs({ atMs, value }: Series): Float64Array {
  let sinceMs = NaN;
  return atMs.map((at, i) => {
    if ((value[i] as number) < warmC) sinceMs = NaN;
    else if (Number.isNaN(sinceMs)) sinceMs = at;
    return at - sinceMs;
  });
}

/** Method: share of a span that readings must reach back over. */
const mostOfSpan = 0.7;

/** Of each reading: share of those of the span before it that are as warm as brood; NaN where they do not reach back for most of it. */
function warmShare({ atMs, value }: Series, withinMs: number): Float64Array {
  let [from, warm] = [0, 0];
  return atMs.map((nowMs, i) => {
    if ((value[i] as number) >= warmC) warm += 1;
    for (; (atMs[from] as number) <= nowMs - withinMs; from++)
      if ((value[from] as number) >= warmC) warm -= 1;
    return from === 0 && nowMs - (atMs[0] as number) < mostOfSpan * withinMs ? NaN : warm / (i - from + 1);
  });
}

/** Most that was held over the last day and a half before reading `i`, K; NaN where nothing is known of it. */
function mostHeld(atMs: Float64Array, heldK: Float64Array, i: number): number {
  let most = NaN;
  for (let j = i - 1; j >= 0 && (atMs[j] as number) >= (atMs[i] as number) - heldForMs; j--)
    if (!((heldK[j] as number) <= most) && !Number.isNaN(heldK[j])) most = heldK[j] as number;
  return most;
}

/** Whether a reading within the half hour before was warm, and this one and the one before are far under it. */
function fellAtOnce({ atMs, value }: Series, i: number): boolean {
  const now = Math.max(value[i] as number, value[i - 1] ?? Infinity);
  const beforeMs = atMs[i - 1] ?? Infinity;
  for (let j = i - 2; j >= 0 && beforeMs - (atMs[j] as number) <= suddenMs; j--)
    if ((value[j] as number) >= coldC && (value[j] as number) - now >= suddenK) return true;
  return false;
}
