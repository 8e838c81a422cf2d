/** A batch of nucs aligned on the same day of their introduction: the batch's own band, and who is outside it since when. */
import { nucsDifferK, nucsDifferSpreadK } from '../biology/alert-figures.ts';
import { tenths } from './statistics/intervals.ts';
import { daysFrom } from './days.ts';
import { quantiles } from './statistics/robust.ts';

export interface CohortMember {
  readonly id: string;
  /** Local date of day 0: the split, or the release. */
  readonly dayZero: string;
  /** One value a local date; days without one are left out. */
  readonly values: readonly { readonly date: string; readonly value: number }[];
  /** Its queen was lost: it is compared with the band and takes no part in it. */
  readonly isLost?: boolean;
}

export interface BandDay {
  readonly day: number;
  readonly low: number;
  readonly median: number;
  readonly high: number;
  readonly members: number;
}

export interface Outsider {
  readonly id: string;
  /** Day from which it has been outside without a break up to its newest day. */
  readonly sinceDay: number;
  readonly side: 'under' | 'over';
  /** On its newest day. */
  readonly value: number;
  readonly day: number;
}

export interface Cohort {
  readonly band: readonly BandDay[];
  readonly outsiders: readonly Outsider[];
  readonly why: string;
}

/** Method: fewer than this on a day make no band. */
const leastMembers = 5;
/** Method: its edge is this part of its width beside it. */
const edgeOfBand = 0.25;
/** Outside for this many days in a row is told; a day may happen to anyone. */
const leastDays = 2;
/** Nearer to the middle of the batch than this is nobody: two probes differ by as much. */
export const leastDistance = { broodC: nucsDifferK.value, broodSpreadK: nucsDifferSpreadK.value };

/**
 * Band from the 10th to the 90th percentile of the members that are not lost, on each aligned day. Outside is who lies beyond it by a
 * quarter of its width or more (a tenth of a batch lies beyond its band on any day) for two days in a row, its newest,
 * and `least` or more from the middle, in the unit of the values.
 */
export function alignCohort(members: readonly CohortMember[], least = 0): Cohort {
  const aligned = members.map(({ id, dayZero, values, isLost = false }) => ({
    id,
    isLost,
    days: values
      .filter(({ value }) => Number.isFinite(value))
      .map(({ date, value }) => ({ day: daysFrom(dayZero, date), value }))
      .sort((a, b) => a.day - b.day),
  }));
  const byDay = new Map<number, number[]>();
  for (const { days, isLost } of aligned)
    for (const { day, value } of isLost ? [] : days) byDay.set(day, [...(byDay.get(day) ?? []), value]);
  const band = [...byDay]
    .filter(([, values]) => values.length >= leastMembers)
    .sort(([a], [b]) => a - b)
    .map(([day, values]): BandDay => {
      const [low, median, high] = quantiles(values, tenths.low, tenths.middle, tenths.high) as [
        number,
        number,
        number,
      ];
      return { day, low, median, high, members: values.length };
    });
  const bandOn = new Map(band.map((day) => [day.day, day]));
  const outsiders = aligned
    .flatMap(({ id, days }) => outsideRun(id, days, bandOn))
    .filter(({ value, day }) => Math.abs(value - (bandOn.get(day)?.median ?? value)) >= least);
  const why =
    band.length === 0
      ? `no day is shared by ${String(leastMembers)} nucs, so there is no band to compare with`
      : `band of ${String(Math.max(...band.map((day) => day.members)))} nucs over ${String(band.length)} days`;
  return { band, outsiders, why };
}

function outsideRun(
  id: string,
  days: readonly { day: number; value: number }[],
  bandOn: ReadonlyMap<number, BandDay>,
): Outsider[] {
  let since: Outsider | undefined;
  let run = 0;
  const newest = days.at(-1) ?? { day: NaN, value: NaN };
  for (let i = days.length - 1; i >= 0; i--) {
    const { day, value } = days[i] as { day: number; value: number };
    const band = bandOn.get(day);
    if (!band) break;
    const slack = (band.high - band.low) * edgeOfBand;
    const side = value < band.low - slack ? 'under' : value > band.high + slack ? 'over' : null;
    if (side === null || (since && since.side !== side)) break;
    since = { id, sinceDay: day, side, ...newest };
    run += 1;
  }
  return since && run >= leastDays ? [since] : [];
}
