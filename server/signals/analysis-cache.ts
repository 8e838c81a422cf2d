/** Results of days already read, kept by the caller between analyses of the same nuc. */
import { daysBetween, type LocalDay } from './days.ts';
import { marginMs, readDay, readDayLaidOut } from './day.ts';
import type { AnalysisInput } from './input.ts';
import type { NucDay } from './kept-day.ts';
import { between, indexAt } from './series.ts';
import type { Series, SitePlace } from './types.ts';

/** Opaque: make one per nuc with `newAnalysisCache`, hand it to every `analyseNuc`, drop it when the nuc is set up anew. */
export interface AnalysisCache {
  readonly layDaysOut: boolean;
  days: Map<string, KnownDay>;
  /** Results by what they are and what they were worked out from. */
  kept: Map<string, { readonly from: readonly unknown[]; readonly result: unknown }>;
  /** Lists of results, one for each day, by what they are. */
  lists: Map<
    string,
    { readonly items: readonly unknown[]; readonly with: unknown; readonly results: unknown[] }
  >;
  /** All events of the call before, and the days that it read. */
  events: string;
  read: { readonly localDays: readonly LocalDay[]; readonly days: readonly NucDay[] };
  calendar: LocalDay[];
  place: string;
}

interface KnownDay {
  /** What was logged in and around it. */
  readonly events: string;
  readonly shape: string;
  /** Told where nobody says from when on readings changed. */
  readonly content: string | undefined;
  readonly read: NucDay;
}

/** `layDaysOut`: days are kept as they are read, for many looks at one nuc; else in little memory, for a farm. */
export const newAnalysisCache = ({ layDaysOut = false } = {}): AnalysisCache => ({
  layDaysOut,
  days: new Map(),
  kept: new Map(),
  lists: new Map(),
  events: '',
  read: { localDays: [], days: [] },
  calendar: [],
  place: '',
});

/** A result out of the cache where everything that it was worked out from is the very same; else worked out and kept. */
export function memoize<T>(
  cache: AnalysisCache | undefined,
  name: string,
  from: readonly unknown[],
  work: () => T,
): T {
  const known = cache?.kept.get(name);
  if (known && known.from.length === from.length && known.from.every((v, i) => Object.is(v, from[i]))) {
    return known.result as T;
  }
  const result = work();
  cache?.kept.set(name, { from, result });
  return result;
}

/**
 * A result for each of a list's items, worked out from the item, its neighbours and `given`. Where these are the very same
 * as in the call before the result is, too, without a look at it: what a call costs does not grow with the days that are
 * over. The last item of either call, which may still be open, is always asked for.
 */
export function memoizeEach<T, R>(
  cache: AnalysisCache | undefined,
  name: string,
  items: readonly T[],
  given: unknown,
  work: (item: T, i: number) => R,
): R[] {
  const known = cache?.lists.get(name);
  const before = known && Object.is(known.with, given) ? known : undefined;
  const over = Math.min(items.length, before?.items.length ?? 0) - 1;
  const results = new Array<R>(items.length);
  let sameBefore = true;
  let same = over > 0 && before?.items[0] === items[0];
  for (let i = 0; i < items.length; i++) {
    const sameAfter = i < over && before?.items[i + 1] === items[i + 1];
    const keeps = before && i < over && sameBefore && same && sameAfter;
    results[i] = keeps ? (before.results[i] as R) : work(items[i] as T, i);
    sameBefore = same;
    same = sameAfter;
  }
  cache?.lists.set(name, { items, with: given, results });
  return results;
}

/** Local days from `fromMs` to `toMs`; only those not yet known are worked out. */
export function calendarOf(
  cache: AnalysisCache | undefined,
  place: SitePlace,
  fromMs: number,
  toMs: number,
): LocalDay[] {
  if (!cache) return daysBetween(place.timeZone, fromMs, toMs);
  const name = `${String(place.latDeg)} ${String(place.lonDeg)} ${place.timeZone}`;
  if (cache.place !== name) {
    Object.assign(cache, newAnalysisCache(cache), { place: name });
  }
  const first = cache.calendar[0];
  if (!first || fromMs < first.fromMs) cache.calendar = daysBetween(place.timeZone, fromMs, toMs);
  const last = cache.calendar.at(-1);
  if (last && toMs >= last.toMs)
    cache.calendar = [...cache.calendar, ...daysBetween(place.timeZone, last.toMs, toMs)];
  return within(cache.calendar, fromMs, toMs);
}

/** Those of a calendar's days that a span touches; the calendar itself where it touches all. */
function within(calendar: LocalDay[], fromMs: number, toMs: number): LocalDay[] {
  let first = 0;
  let end = calendar.length;
  while (first < end && (calendar[first] as LocalDay).toMs <= fromMs) first += 1;
  while (end > first && (calendar[end - 1] as LocalDay).fromMs > toMs) end -= 1;
  return first === 0 && end === calendar.length ? calendar : calendar.slice(first, end);
}

/** Readings of each day, out of the cache where neither they nor what was logged around them changed. */
export function daysOf(
  localDays: readonly LocalDay[],
  input: AnalysisInput,
  cache: AnalysisCache | undefined,
): NucDay[] {
  if (!cache) return localDays.map((day) => readDay(day, input));
  const events = keyOf(input.events);
  const sameEvents = events === cache.events;
  // Of days long over, those of the call before, without so much as a look for each.
  const before = sameEvents && input.changedFromMs !== undefined ? cache.read : undefined;
  const untilMs = (input.changedFromMs ?? -Infinity) - marginMs;
  const shift = before?.localDays.indexOf(localDays[0] as LocalDay) ?? 0;
  const days = localDays.map((day, i) => {
    const known =
      day.toMs < untilMs && before?.localDays[i + shift] === day ? before.days[i + shift] : undefined;
    return known ?? dayOf(day, input, cache, sameEvents);
  });
  cache.events = events;
  cache.read = { localDays, days };
  return days;
}

function dayOf(day: LocalDay, input: AnalysisInput, cache: AnalysisCache, sameEvents: boolean): NucDay {
  const known = cache.days.get(day.date);
  const { changedFromMs } = input;
  const untouched = changedFromMs !== undefined && day.toMs + marginMs < changedFromMs;
  if (known && untouched && sameEvents) return known.read;
  const events = keyOf(
    input.events.filter((e) => e.atMs > day.fromMs - marginMs && e.atMs < day.toMs + marginMs),
  );
  const sameAround = known?.events === events;
  if (known && untouched && sameAround) return known.read;
  const shape = shapeOf(day, input);
  // What was read before anything changed is known by how much it is.
  const isOld = changedFromMs !== undefined && shape.lastMs < changedFromMs;
  if (known && sameAround && isOld && known.shape === shape.key) return known.read;
  const content = changedFromMs === undefined ? contentKey(day, input) : undefined;
  if (known && sameAround && content !== undefined && known.content === content) return known.read;
  const read = cache.layDaysOut ? readDayLaidOut(day, input) : readDay(day, input);
  cache.days.set(day.date, { events, shape: shape.key, content, read });
  return read;
}

/** How many readings lie in and around a day, and the last of them. */
function shapeOf(
  day: LocalDay,
  { series }: AnalysisInput,
): { readonly key: string; readonly lastMs: number } {
  const parts: (string | number)[] = [];
  let lastMs = -Infinity;
  for (const one of [series.weightG, series.broodC, series.cageC, series.outsideC, series.rainMm]) {
    if (!one) parts.push('-');
    else {
      const end = indexAt(one, day.toMs + marginMs);
      const count = end - indexAt(one, day.fromMs - marginMs);
      const newestMs = count > 0 ? (one.atMs[end - 1] as number) : -Infinity;
      lastMs = Math.max(lastMs, newestMs);
      parts.push(count, newestMs);
    }
  }
  return { key: parts.join(';'), lastMs };
}

/** Days outside the span that is analysed are let go, with all that was kept about them. */
export function forgetOthers(cache: AnalysisCache | undefined, days: readonly LocalDay[]): void {
  if (!cache || cache.days.size <= days.length) return;
  const wanted = new Set(days.map((day) => day.date));
  for (const date of [...cache.days.keys()]) if (!wanted.has(date)) cache.days.delete(date);
  for (const name of [...cache.kept.keys()]) {
    const date = name.split(' ')[1];
    if (date !== undefined && !wanted.has(date)) cache.kept.delete(name);
  }
}

/** Tells one set of events from another. */
export const keyOf = (events: AnalysisInput['events']): string =>
  events
    .map((e) => `${e.kind}@${String(e.atMs)}`)
    .sort()
    .join(',');

function contentKey(day: LocalDay, input: AnalysisInput): string {
  const { weightG, broodC, cageC, outsideC, rainMm } = input.series;
  return [weightG, broodC, cageC, outsideC, rainMm].map((series) => checksum(series, day)).join(';');
}

function checksum(series: Series | undefined, day: LocalDay): string {
  return series ? fingerprint(between(series, day.fromMs - marginMs, day.toMs + marginMs)) : '-';
}

/** Method: weights of the places in a fingerprint, so that two readings can’t change places. */
const primes = { places: 8191, turns: 97, time: 1e-7 } as const;
/** Method: what stands in the sums for a value that is no number: one NaN would make them the same whatever else is read. */
const notANumber = 1e7 + 0.137;

/** Number of readings and two sums that see order, time and value of each. */
export function fingerprint({ atMs, value }: Series): string {
  const startMs = atMs[0] ?? 0;
  let plain = 0;
  let turned = 0;
  for (let i = 0; i < value.length; i++) {
    const read = value[i] as number;
    const v = Number.isFinite(read) ? read : notANumber;
    const place = 1 + (i % primes.places);
    plain += v;
    turned += v * place + ((atMs[i] ?? 0) - startMs) * primes.time * (1 + (place % primes.turns));
  }
  // Joined, it is one text; of a template the engine keeps the parts, four times as large.
  return [value.length, startMs, plain, turned].join(':');
}
