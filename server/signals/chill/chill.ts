/** Cold and heat suffered: dose in degree-hours beyond a limit, for open brood, sealed brood and the caged queen. */
import { logClockMinutes, visitColdMinutes } from '../../biology/nest-figures.ts';
import {
  broodHotC,
  openBroodColdC,
  queenColdC,
  queenHotC,
  sealedBroodColdC,
} from '../../biology/thermal-figures.ts';
import { silentWhy } from '../brood/brood-temperature.ts';
import { between, hourMs, indexAt, minuteMs, usualIntervalMs } from '../series.ts';
import type { BroodRegime, KnownEvent, Series, ThermalDose } from '../types.ts';

/** Doses count over this long back. */
const doseSpanMs = 24 * hourMs;
/** Method: a reading stands for the time up to the next, at most this long. */
const longestHoldMs = 30 * minuteMs;
/** Method: that of a sensor that reads less often stands for its interval, at most this long. */
const seldomHoldMs = hourMs;
/** A visit excuses what begins from shortly before it (the log's clock is the keeper's) to an hour after it. */
const excuseBeforeMs = logClockMinutes.value * minuteMs;
const excuseAfterMs = visitColdMinutes.value * minuteMs;

export interface DoseInput {
  readonly broodC?: Series;
  readonly cageC?: Series;
  readonly regime: BroodRegime;
  readonly events: readonly KnownEvent[];
  readonly nowMs: number;
  /** Since when the brood probe lies where it lies: what it read before was of another place, and no dose of the brood. */
  readonly probeMovedMs?: number;
  /** Whether a queen is in the cage: without one its temperature harms nobody. */
  readonly queenInCage: boolean;
}

/** Doses that matter at this stage; none for what has no sensor, or no brood. */
export function thermalDoses(input: DoseInput): ThermalDose[] {
  const doses: ThermalDose[] = [];
  const { regime, broodC, cageC } = input;
  const add = (what: ThermalDose['what'], series: Series | undefined, coldC: number, hotC: number): void => {
    if (!series) return;
    const placed = series === broodC ? between(series, input.probeMovedMs ?? -Infinity, Infinity) : series;
    const recent = between(placed, input.nowMs - doseSpanMs, input.nowMs + 1);
    const everyMs = Math.min(seldomHoldMs, usualIntervalMs(recent) ?? longestHoldMs);
    const hold = Math.max(everyMs, Math.min(longestHoldMs, 2 * everyMs));
    for (const [direction, limitC] of [
      ['cold', coldC],
      ['heat', hotC],
    ] as const)
      doses.push(dose(what, direction, limitC, placed, recent, hold, input));
  };
  if (regime === 'open-brood' || regime === 'new-brood-expected' || regime === 'unknown') {
    add('open-brood', broodC, openBroodColdC.value, broodHotC.value);
  }
  if (regime !== 'broodless') add('sealed-brood', broodC, sealedBroodColdC.value, broodHotC.value);
  if (input.queenInCage) add('caged-queen', cageC, queenColdC.value, queenHotC.value);
  return doses;
}

function dose(
  what: ThermalDose['what'],
  direction: ThermalDose['direction'],
  limitC: number,
  series: Series,
  recent: Series,
  holdMs: number,
  input: DoseInput,
): ThermalDose {
  const { nowMs, events } = input;
  const n = recent.value.length;
  const beyond = (i: number): number => {
    const over = (recent.value[i] as number) - limitC;
    return Math.max(0, direction === 'cold' ? -over : over);
  };
  let degreeHours = 0;
  for (let i = 0; i < n; i++) {
    if (beyond(i) === 0 || excusedAt(events, recent.atMs[i] as number)) continue;
    const next = i + 1 < n ? (recent.atMs[i + 1] as number) : nowMs;
    degreeHours += (beyond(i) * Math.min(holdMs, next - (recent.atMs[i] as number))) / hourMs;
  }
  const isSilent = silentWhy(recent, nowMs) !== null;
  const beyondNow = !isSilent && n > 0 && beyond(n - 1) > 0;
  const sinceMs = beyondNow ? sinceWhen(series, limitC, direction, nowMs) : null;
  return {
    what,
    direction,
    limitC,
    beyondNow,
    sinceMs,
    nowC: n > 0 && !isSilent ? (recent.value[n - 1] as number) : null,
    nowAtMs: n > 0 && !isSilent ? (recent.atMs[n - 1] as number) : null,
    degreeHours,
    excused: sinceMs !== null && excusedAt(events, sinceMs) && excusedAt(events, nowMs),
  };
}

/** First reading of the unbroken run beyond the limit that ends now. */
function sinceWhen(
  series: Series,
  limitC: number,
  direction: ThermalDose['direction'],
  nowMs: number,
): number {
  let i = indexAt(series, nowMs + 1) - 1;
  const beyond = (v: number): boolean => (direction === 'cold' ? v < limitC : v > limitC);
  while (i > 0 && beyond(series.value[i - 1] as number)) i--;
  return series.atMs[i] as number;
}

const excusedAt = (events: readonly KnownEvent[], atMs: number): boolean =>
  events.some((event) => atMs >= event.atMs - excuseBeforeMs && atMs <= event.atMs + excuseAfterMs);
