/**
 * A brood nest that slowly leaves its own level, too little on any one day to be seen: CUSUM of the days' medians against
 * the nest's own first days (NIST/SEMATECH 6.3.2.3), with its smoothed level (6.3.2.4) and its trend. It warns of nothing.
 */
import { nestDaysSdK, nestShiftK, probeAtEdgeK } from '../../biology/nest-figures.ts';
import { degC, kelvin, say, type Sentence } from '../../words/phrase.ts';
import { lowEnd } from '../../biology/figure.ts';
import { broodNestC } from '../../biology/thermal-figures.ts';
import { cusum, ewma, ewmaLimits } from '../statistics/control-charts.ts';
import { median, robustSd } from '../statistics/robust.ts';
import { mannKendall, senSlope } from '../statistics/trend.ts';
import type { BroodDay } from '../types.ts';

export interface SlowShift {
  readonly state: 'level' | 'sinking' | 'rising' | 'cannot-tell';
  /** First day of the run that made the sum pass its limit, YYYY-MM-DD. */
  readonly since: string | null;
  readonly why: Sentence;
}

/** Method: share of a day that must be read. */
const leastCoverage = 0.4;
/** Method: days that show what is usual. */
const referenceDays = 7;
/** Method: days after them without which there is nothing to compare. */
const leastDaysAfter = 3;
/** Method: half of the shift that matters is the slack. */
const slackC = nestShiftK.value / 2;
/**
 * Method: six times the slack is the decision limit, so that it takes six days of the shift that matters, or two of
 * 2 °C. Limits by a nest's own spread, as the handbook has them, would call every healthy hive of the open series
 * shifted within three weeks: days of a nest go together, and all drift by 0.3 to 0.5 °C.
 */
const limitC = 6 * slackC;
const leastSdC = nestDaysSdK.value;
/** A probe that read less in its first days did not lie in a nest that was kept warm. */
const leastUsualC = lowEnd(broodNestC) - probeAtEdgeK.value;
/** Method: weight of the newest day in the smoothed level. */
const newest = 0.3;
/** Method: days of the trend. */
const trendDays = 14;
/** Method: the chance under which a trend is told. */
const unlikely = 0.05;
/** Method: a trend is told as K a week. */
const weekDays = 7;

/** `fromDate`: the first whole day since the probe lies where it lies, and brood is there. Days in order. */
export function slowShift(days: readonly BroodDay[], fromDate: string): SlowShift {
  const full = days.filter((day) => day.date >= fromDate && day.coverage >= leastCoverage);
  const levels = full.map((day) => day.medianC);
  if (full.length < referenceDays + leastDaysAfter)
    return {
      state: 'cannot-tell',
      since: null,
      why: `it takes ${String(referenceDays + leastDaysAfter)} days with the probe in one place`,
    };
  const reference = levels.slice(0, referenceDays);
  const usualC = median(reference);
  if (usualC < leastUsualC)
    return { state: 'cannot-tell', since: null, why: 'the probe was not among the brood in its first days' };
  const sdC = Math.max(leastSdC, robustSd(reference));
  const chart = cusum(levels, usualC, slackC, limitC);
  const [up, down] = [chart.high.at(-1) ?? 0, chart.low.at(-1) ?? 0];
  const nowC = ewma(levels, newest, usualC).at(-1) ?? usualC;
  const usual = ewmaLimits(usualC, sdC, newest);
  const words = say`${degC(nowC)} lately, ${degC(usualC)} in its first ${String(referenceDays)} days`;
  // A sum falls back slowly: the smoothed level says whether the nest is still where the sum left it.
  const state =
    down > limitC && nowC < usual.low ? 'sinking' : up > limitC && nowC > usual.high ? 'rising' : 'level';
  if (state === 'level') return { state, since: null, why: words };
  const lastZero = (state === 'sinking' ? chart.low : chart.high).lastIndexOf(0);
  const recent = levels.slice(-trendDays);
  const trend = mannKendall(recent);
  const slope =
    trend.p < unlikely
      ? say`, moving by ${kelvin(senSlope(recent) * weekDays)} a week over the last ${String(recent.length)} days`
      : ', and has stayed there since';
  return {
    state,
    since: full[lastZero + 1]?.date ?? null,
    why: say`${words}${slope}`,
  };
}
