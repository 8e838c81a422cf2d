/** A level to reach, what was reached, and how sure that is. */
import { medianInterval, wilson } from '../../server/signals/statistics/intervals.ts';

export interface Level {
  readonly what: string;
  readonly goal: string;
  readonly achieved: number;
  /** 95 % interval of what was achieved. */
  readonly low: number;
  readonly high: number;
  readonly unit: '%' | 'min' | 'g' | '1';
  readonly n: number;
  readonly met: boolean;
}

export interface Goal {
  readonly atMost?: number;
  readonly atLeast?: number;
  readonly under?: number;
}

const within = (value: number, goal: Goal): boolean =>
  value <= (goal.atMost ?? Infinity) &&
  value < (goal.under ?? Infinity) &&
  value >= (goal.atLeast ?? -Infinity);

const words = (goal: Goal, unit: string): string =>
  [
    ...(goal.atLeast === undefined ? [] : [`≥ ${String(goal.atLeast)} ${unit}`]),
    ...(goal.atMost === undefined ? [] : [`≤ ${String(goal.atMost)} ${unit}`]),
    ...(goal.under === undefined ? [] : [`< ${String(goal.under)} ${unit}`]),
  ].join(', ');

/** Share of cases, in per cent, with Wilson's interval. */
export function shareLevel(what: string, hits: number, n: number, goal: Goal): Level {
  const { low, high } = wilson(hits, n);
  const achieved = n === 0 ? NaN : (100 * hits) / n;
  const met = within(achieved, goal);
  return { what, goal: words(goal, '%'), achieved, low: 100 * low, high: 100 * high, unit: '%', n, met };
}

/** Median of a list of relative errors, in per cent, with the distribution-free interval of a median. */
export function medianLevel(what: string, values: readonly number[], goal: Goal): Level {
  // Where all is declined there is no error to tell of.
  const { median, low, high } =
    values.length === 0 ? { median: NaN, low: NaN, high: NaN } : medianInterval(values.map((v) => 100 * v));
  return {
    what,
    goal: words(goal, '%'),
    achieved: median,
    low,
    high,
    unit: '%',
    n: values.length,
    met: values.length === 0 ? Object.keys(goal).length === 0 : within(median, goal),
  };
}

export function table(title: string, levels: readonly Level[]): string {
  const rows = levels.map((level) => [
    level.what,
    level.goal,
    `${level.achieved.toFixed(1)} ${level.unit}`,
    `${level.low.toFixed(1)}-${level.high.toFixed(1)}`,
    String(level.n),
    level.goal === '' ? '' : level.met ? 'met' : 'MISSED',
  ]);
  const all = [['what', 'goal', 'achieved', '95 % interval', 'n', ''], ...rows];
  const width = (column: number): number => Math.max(...all.map((row) => (row[column] as string).length));
  const lines = all.map((row) =>
    row
      .map((cell, column) => cell.padEnd(width(column)))
      .join('  ')
      .trimEnd(),
  );
  return [title, ...lines].join('\n');
}
