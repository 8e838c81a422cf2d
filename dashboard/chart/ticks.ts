/** Where the time axis has its lines and what stands there: days begin at the site's midnight. Pure. */
import { addDays, instantAt, localDate, localTime } from '../format/calendar.ts';
import { clockTime, shortDay } from '../format/when.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;

type Step =
  | { readonly unit: 'minute'; readonly every: number }
  | { readonly unit: 'day'; readonly every: number }
  | { readonly unit: 'month'; readonly every: number };

/** Steps from fine to coarse with about how long each is. Minutes count from the site's midnight. */
const steps: readonly (readonly [number, Step])[] = [
  ...[5, 15, 30, 60, 180, 360, 720].map((every): readonly [number, Step] => [
    every * minuteMs,
    { unit: 'minute', every },
  ]),
  ...[1, 2, 4, 7, 14].map((every): readonly [number, Step] => [every * dayMs, { unit: 'day', every }]),
  ...[1, 3, 12].map((every): readonly [number, Step] => [every * 30.5 * dayMs, { unit: 'month', every }]),
];

function stepFor(lengthMs: number, most: number): Step {
  const found = steps.find(([stepMs]) => lengthMs / stepMs <= most);
  return found?.[1] ?? { unit: 'month', every: 12 };
}

function datesOf(step: Step, from: string, to: string): readonly string[] {
  const dates: string[] = [];
  if (step.unit === 'month') {
    const first = Number(from.slice(0, 4)) * 12 + Number(from.slice(5, 7)) - 1;
    const last = Number(to.slice(0, 4)) * 12 + Number(to.slice(5, 7)) - 1;
    for (let month = Math.floor(first / step.every) * step.every; month <= last; month += step.every) {
      dates.push(`${String(Math.floor(month / 12))}-${String((month % 12) + 1).padStart(2, '0')}-01`);
    }
    return dates;
  }
  const every = step.unit === 'day' ? step.every : 1;
  // Counted from a Monday, so that weeks begin on Mondays and the lines do not jump when the chart is moved.
  const since = Math.floor((Date.parse(`${from}T00:00:00Z`) / dayMs - 4) / every) * every + 4;
  for (
    let date = new Date(since * dayMs).toISOString().slice(0, 10);
    date <= to;
    date = addDays(date, every)
  ) {
    dates.push(date);
  }
  return dates;
}

export interface TimeTick {
  readonly value: number;
  readonly label: string;
}

export function timeTicks(fromMs: number, toMs: number, zone: string, most: number): readonly TimeTick[] {
  const step = stepFor(toMs - fromMs, Math.max(2, most));
  const ticks: TimeTick[] = [];
  for (const date of datesOf(step, localDate(fromMs, zone), localDate(toMs, zone))) {
    const minutes = step.unit === 'minute' ? step.every : 24 * 60;
    for (let minute = 0; minute < 24 * 60; minute += minutes) {
      const time = `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
      const value = instantAt(date, time, zone);
      if (value < fromMs || value > toMs) continue;
      // What spring leaves out would stand at what comes after it; only a day without a midnight begins there.
      const shown = minute === 0 ? localDate(value, zone) === date : localTime(value, zone) === time;
      if (!shown || value === ticks.at(-1)?.value) continue;
      ticks.push({ value, label: minute === 0 ? dayLabel(value, step, zone) : clockTime(value, zone) });
    }
  }
  return ticks;
}

const dayLabel = (atMs: number, step: Step, zone: string): string =>
  step.unit === 'month' ? shortDay(atMs, zone).slice(4) : shortDay(atMs, zone);
