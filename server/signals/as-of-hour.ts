/** What changes slowly is worked out as of the last full hour: the drift of the foragers, and the night ahead. */
import { fingerprint, keyOf, memoize, type AnalysisCache } from './analysis-cache.ts';
import { binMs, seriesUntil } from './bins.ts';
import { chillOutlook, nightOutlook, silentOutlook, type OutlookInput } from './chill/outlook.ts';
import { isProbeInDoubt } from './brood/probe-place.ts';
import { marginMs } from './day.ts';
import { driftWindowMs } from './drift/drift-input.ts';
import { forageDriftOf, type DriftAndScale } from './drift/forager-drift.ts';
import { beesAtMost } from './drift/population.ts';
import type { NucDay } from './kept-day.ts';
import type { Read } from './read-all.ts';
import { driftDays, driftInput, nextNight } from './read-days.ts';
import { between, hourMs } from './series.ts';
import type { MassDeparture, NucSignals, ProbePlace, Series } from './types.ts';

/** Method: foragers that bad weather held in beyond the days of the fit are followed by the weather for so long. */
const weatherWindowMs = 30 * 24 * hourMs;

/** As of the last full hour; once they have gone, and the days that it is read from are over, it stays as it is. */
export function driftAsOfHour(read: Read, cache: AnalysisCache | undefined): DriftAndScale {
  const { nowMs, seen } = read;
  const movedAtMs = seen.movedAtMs ?? nowMs;
  const hourAtMs = Math.max(Math.floor(nowMs / hourMs) * hourMs, Math.min(nowMs, movedAtMs));
  const told = driftWithin(driftWindowMs, 'drift-as-of', read, hourAtMs, cache);
  return hourAtMs <= movedAtMs + driftWindowMs || told.drift.state === 'gone' || told.drift.stay
    ? told
    : driftWithin(weatherWindowMs, 'drift-later', read, hourAtMs, cache);
}

/** From flying weather no further than so long after the move. What is read from days that are over is kept until one is read anew. */
function driftWithin(
  windowMs: number,
  name: string,
  { seen, days }: Read,
  hourAtMs: number,
  cache: AnalysisCache | undefined,
): DriftAndScale {
  const kept = driftDays(seen, days, hourAtMs, windowMs);
  const last = kept.at(-1);
  const read = last && last.day.toMs > hourAtMs ? readUntil(kept, hourAtMs, driftParts) : kept;
  const { rainMm, settledG } = seen.series;
  const toMs = Math.min(hourAtMs, last?.day.toMs ?? hourAtMs);
  const rain = last && fingerprint(between(rainMm, last.day.fromMs, toMs));
  const settled = settledG && last && fingerprint(between(settledG, kept[0]?.day.fromMs ?? 0, toMs));
  const events = keyOf(seen.events.filter(({ atMs }) => atMs <= hourAtMs));
  return memoize(
    cache,
    name,
    [seen.movedAtMs, seen.noneFlewHome, seen.framesOfBees, events, rain, settled, ...read],
    () => forageDriftOf(driftInput(seen, days, hourAtMs, windowMs), cache),
  );
}

/** Tells apart what was read of days up to an instant: by the day itself once nothing new can belong to it. */
const readUntil = (
  days: readonly NucDay[],
  untilMs: number,
  parts: (day: NucDay, untilMs: number) => readonly string[],
): readonly unknown[] => [
  untilMs,
  ...days.flatMap((day): readonly unknown[] =>
    day.day.toMs + marginMs <= untilMs ? [day] : parts(day, untilMs),
  ),
];

function driftParts({ weight, outside, flight, steps }: NucDay, untilMs: number): readonly string[] {
  // The bin that begins with the instant is partly guessed from what comes before it.
  const flown = Math.max(0, Math.round((untilMs - flight.fromMs) / binMs) + 1);
  return [
    ...[weight, outside].map((bins) => fingerprint(seriesUntil(bins, untilMs))),
    ...[flight.activity, Float64Array.from(flight.guessed)].map((all) =>
      fingerprint({ atMs: new Float64Array(0), value: all.subarray(0, flown) }),
    ),
    JSON.stringify(steps.filter(({ atMs }) => atMs <= untilMs)),
  ];
}

/** Method: more nights than the night ahead is told from. */
const nightsAsked = 14;

/** The night ahead as of the last full hour: it changes slowly, and is worked out once an hour. */
export function outlookAsOfHour(
  all: Read,
  place: ProbePlace,
  departures: readonly MassDeparture[],
  cache: AnalysisCache | undefined,
): NucSignals['outlook'] {
  const { input, recent, silent, nowMs } = all;
  const { doubts } = place;
  const now = outlookInput(all, nowMs, recent.brood, recent.outside, cache);
  const notThis =
    silent ?? (isProbeInDoubt(place, departures) ? 'the probe may lie outside of the brood' : null);
  if (notThis !== null) return silentOutlook(notThis, now.nightAhead);
  const hourAtMs = fullHour(nowMs, recent.brood);
  const [brood, outside] = [recent.brood, recent.outside].map((bins) => seriesUntil(bins, hourAtMs)) as [
    Series,
    Series,
  ];
  const read = readUntil(recent.days, hourAtMs, nestParts);
  const from = [
    keyOf(input.events),
    now.bees,
    JSON.stringify(input.forecast),
    JSON.stringify(doubts),
    ...read,
  ];
  const night = memoize(cache, 'night-outlook', from, () =>
    nightOutlook({ ...outlookInput(all, hourAtMs, brood, outside, cache), doubts }),
  );
  return chillOutlook(now, night);
}

const nestParts = ({ brood, outside }: NucDay, untilMs: number): readonly string[] =>
  [brood, outside].map((bins) => fingerprint(seriesUntil(bins, untilMs)));

function outlookInput(
  read: Read,
  nowMs: number,
  brood: Series,
  outside: Series,
  cache: AnalysisCache | undefined,
): OutlookInput {
  const { input } = read;
  const spans = read.spans.slice(-nightsAsked);
  const bees = beesAtMost(input);
  return {
    nowMs,
    brood,
    outside,
    events: input.events,
    days: read.recent.days,
    nights: spans.filter((span) => span.toMs <= nowMs),
    nightAhead: spans.find((span) => span.toMs > nowMs) ?? nextNight(read, input.place, cache),
    ...(bees === undefined ? {} : { bees }),
    ...(input.forecast ? { forecast: input.forecast } : {}),
    ...(cache ? { cache } : {}),
  };
}

/** The last full hour; the instant itself where nothing was read before that hour. */
function fullHour(nowMs: number, bins: Series): number {
  const hourAtMs = Math.floor(nowMs / hourMs) * hourMs;
  return (bins.atMs[0] ?? Infinity) < hourAtMs ? hourAtMs : nowMs;
}
