/** Does a fall of this nest go on? A nest that swings falls and turns; one that the cold defeats goes on falling. */
import { fallGoesOnShare, fallKnownShare, visitColdMinutes } from '../../biology/nest-figures.ts';
import { between, hourMs, minuteMs } from '../series.ts';
import { median } from '../statistics/robust.ts';
import type { ChillOutlook, KnownEvent, Series } from '../types.ts';

/** Method: its own falls are looked at over so long. */
const spanMs = 5 * 24 * hourMs;
/** Method: they are looked at in steps of this. */
const stepMs = 30 * minuteMs;
/** Method: steps of a fall, and as many of what comes after it. */
const steps = 3;
const fallHours = (steps * stepMs) / hourMs;
/** Method: what falls more slowly falls by a few digits of the probe. */
const leastKPerH = 0.06;
/** Method: what is assumed of a nest counts as so many looks at it. */
const assumedLooks = 12;
const visitMs = fallHours * hourMs + visitColdMinutes.value * minuteMs;

export function fallsOf(
  brood: Series,
  events: readonly KnownEvent[],
  nowMs: number,
): NonNullable<ChillOutlook['falls']> {
  const over = goesOnShare(brood, events, nowMs) - fallGoesOnShare.value;
  if (Math.abs(over) < fallKnownShare.value) return 'not-known';
  return over > 0 ? 'go-on' : 'turn';
}

/**
 * How far this nest fell in the hour and a half after one in which it had fallen, as a share of that: the middle of all such
 * looks of its last days, and of what is assumed of a nest that has few of its own.
 */
function goesOnShare(brood: Series, events: readonly KnownEvent[], nowMs: number): number {
  const fromMs = Math.floor((nowMs - spanMs) / stepMs) * stepMs;
  const lately = between(brood, fromMs, nowMs + 1);
  const tempC = meansFrom(lately, fromMs);
  const digitK = digitOf(lately);
  const shares = new Array<number>(assumedLooks).fill(fallGoesOnShare.value);
  for (let i = steps; i + steps < tempC.length; i++) {
    const [beforeC, nowC, afterC] = [tempC[i - steps], tempC[i], tempC[i + steps]] as [
      number,
      number,
      number,
    ];
    const fellK = beforeC - nowC;
    // Back and forth between two digits of a coarse probe is no fall.
    if (!(fellK >= leastKPerH * fallHours && fellK > digitK) || Number.isNaN(afterC)) continue;
    // A nest that was opened falls, and turns as soon as it is shut.
    const atMs = fromMs + i * stepMs;
    if (!events.some((event) => Math.abs(event.atMs - atMs) < visitMs)) shares.push((nowC - afterC) / fellK);
  }
  return median(shares);
}

/** Method: what differs by less is the arithmetic, K. */
const finestDigitK = 0.005;
/** Method: no probe tells a coarser digit than whole degrees, K. */
const coarsestDigitK = 1;
/** Method: a coarse probe repeats itself in this share of its readings. */
const repeatedShare = 1 / 3;

/** The step in which a coarse probe tells its readings: the smallest from one to the next, K; 0 where it hardly repeats one. */
function digitOf({ value }: Series): number {
  let [digitK, repeated] = [Infinity, 0];
  for (let i = 1; i < value.length; i++) {
    const changeK = Math.abs((value[i] as number) - (value[i - 1] as number));
    if (changeK < finestDigitK) repeated += 1;
    else digitK = Math.min(digitK, changeK);
  }
  const isCoarse = digitK <= coarsestDigitK + finestDigitK && repeated >= repeatedShare * value.length;
  return isCoarse ? digitK + finestDigitK : 0;
}

/** Means of steps; NaN where nothing was read. */
function meansFrom({ atMs, value }: Series, fromMs: number): Float64Array {
  const n = Math.ceil(((atMs.at(-1) ?? fromMs) - fromMs + 1) / stepMs);
  const [sum, count] = [new Float64Array(n), new Float64Array(n)];
  for (let i = 0; i < atMs.length; i++) {
    const step = Math.floor(((atMs[i] as number) - fromMs) / stepMs);
    sum[step] = (sum[step] as number) + (value[i] as number);
    count[step] = (count[step] as number) + 1;
  }
  return sum.map((total, step) => total / (count[step] as number));
}
