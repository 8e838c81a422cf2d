/** Nights between the days: dark hours, night weights, and each day's curve after its night. */
import { homeAfterDuskMinutes } from '../biology/figures.ts';
import { joinBins } from './bins.ts';
import type { NucDay } from './kept-day.ts';
import { dayBefore } from './days.ts';
import { nightWeight } from './weight/night-weight.ts';
import { takenSoFar, type TakenSoFar } from './weight/robbing.ts';
import { withoutSteps } from './drift/drift-rows.ts';
import { between, hourMs, minuteMs } from './series.ts';
import { sunDay, type SunDay } from './sun.ts';
import { withinDay } from './within-day.ts';
import type { NightSpan } from './chill/outlook.ts';
import type { NightWeight, SitePlace, WithinDay } from './types.ts';
import type { Bins } from './bins.ts';

export interface NightAndDay {
  readonly span: NightSpan;
  readonly night: NightWeight | null;
  readonly daily: WithinDay;
  /** Of the day's weight with its own steps taken out, g/h. */
  readonly steepestFallGPerH: number;
  /** Of the same, since the night; null without one. */
  readonly taken: TakenSoFar | null;
}

const settleMs = homeAfterDuskMinutes.value * minuteMs;
/** Method: from noon to the lowest sun. */
const halfDayMs = 12 * hourMs;
/** Method: a shorter dark is taken as this long either side of the lowest sun. */
const shortestDarkMs = 3 * hourMs;

/** The dark hours that end with the dawn of `date`; where the sun neither sets nor rises, the six hours around its lowest. */
export const darkHours = (place: SitePlace, date: string, previousDate: string): NightSpan =>
  darkBetween(sunDay(place, previousDate), sunDay(place, date), date);

/** The same, from the sun of both dates. */
export function darkBetween(before: SunDay, today: SunDay, date: string): NightSpan {
  const fromMs = before.duskMs === null ? NaN : before.duskMs + settleMs;
  const toMs = today.dawnMs ?? NaN;
  // White nights have no dusk or hardly any dark, polar nights no dawn.
  if (!(toMs - fromMs >= shortestDarkMs)) {
    const lowest = today.noonMs - halfDayMs;
    return { date, fromMs: lowest - shortestDarkMs, toMs: lowest + shortestDarkMs };
  }
  return { date, fromMs, toMs };
}

/** The night before a day and the day itself. `before` is the day before, where it was read; `sunOf` tells the sun of a date. */
export function nightAndDay(
  sunOf: (date: string) => SunDay,
  today: NucDay,
  before: NucDay | undefined,
  nowMs: number,
): NightAndDay {
  const sun = sunOf(today.day.date);
  const span = darkBetween(sunOf(before?.day.date ?? dayBefore(today.day.date)), sun, today.day.date);
  const steps = [...(before?.steps ?? []), ...today.steps];
  const joined = before ? joinBins([before.weight, today.weight]) : today.weight;
  const quietFromMs = before ? span.fromMs : Math.max(span.fromMs, today.day.fromMs);
  // Steps of the night are taken out by carrying the level back from its end.
  const weight = carriedBack(joined, steps, span.toMs);
  const over = span.toMs <= nowMs;
  const night = over ? nightWeight(today.day.date, { fromMs: quietFromMs, toMs: span.toMs }, weight) : null;
  const dayWeight = withoutSteps(today.weight, today.steps, span.toMs);
  return {
    span,
    night,
    daily: withinDay(today.day.date, sun, night, dayWeight),
    steepestFallGPerH: steepestFall(dayWeight, today.day.fromMs, today.day.toMs),
    taken: night && takenSoFar(night, between(dayWeight, span.toMs, Infinity)),
  };
}

function carriedBack(weight: Bins, steps: NucDay['steps'], atMs: number): Bins {
  const earlier = steps.filter((step) => step.atMs < atMs);
  if (earlier.length === 0) return weight;
  const value = weight.value.map((v, i) =>
    earlier.reduce((sum, step) => (step.atMs >= (weight.atMs[i] as number) ? sum + step.sizeG : sum), v),
  );
  return { ...weight, value };
}

/** Method: a shorter stretch is no hour. */
const mostOfAnHour = 0.6;

/** Steepest fall over an hour of a day's weight, g/h. */
function steepestFall(weight: Bins, fromMs: number, toMs: number): number {
  const part = between(weight, fromMs, toMs);
  let steepest = 0;
  for (let i = 0, j = 0; i < part.atMs.length; i++) {
    while (j < i && (part.atMs[i] as number) - (part.atMs[j] as number) > hourMs) j++;
    const hours = ((part.atMs[i] as number) - (part.atMs[j] as number)) / hourMs;
    if (hours >= mostOfAnHour)
      steepest = Math.max(steepest, ((part.value[j] as number) - (part.value[i] as number)) / hours);
  }
  return steepest;
}
