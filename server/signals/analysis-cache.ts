/** Results of days already read, kept by the caller between analyses of the same nuc. */
import type { LocalDay } from './days.ts';
import { marginMs, readDay, type NucDay } from './day.ts';
import type { AnalysisInput } from './input.ts';
import { indexAt } from './series.ts';
import type { Series } from './types.ts';

/** Opaque: make one per nuc with `newAnalysisCache`, hand it to every `analyseNuc`, drop it when the nuc is set up anew. */
export interface AnalysisCache {
  days: Map<string, { readonly key: string; readonly read: NucDay }>;
  place: string;
}

export const newAnalysisCache = (): AnalysisCache => ({ days: new Map(), place: '' });

/** Readings of one day, out of the cache where neither they nor what was logged around them changed. */
export function dayOf(day: LocalDay, input: AnalysisInput, cache: AnalysisCache | undefined): NucDay {
  if (!cache) return readDay(day, input, input.series);
  const place = `${String(input.place.latDeg)} ${String(input.place.lonDeg)} ${input.place.timeZone}`;
  if (cache.place !== place) {
    cache.days.clear();
    cache.place = place;
  }
  const events = eventsKey(day, input);
  const known = cache.days.get(day.date);
  const untouched = input.changedFromMs !== undefined && day.toMs + marginMs < input.changedFromMs;
  if (known && untouched && known.key.endsWith(events)) return known.read;
  const key = `${contentKey(day, input)}|${events}`;
  if (known?.key === key) return known.read;
  const read = readDay(day, input, input.series);
  cache.days.set(day.date, { key, read });
  return read;
}

/** Days outside the span that is analysed are let go. */
export function forgetOthers(cache: AnalysisCache | undefined, days: readonly LocalDay[]): void {
  if (!cache || cache.days.size <= days.length) return;
  const wanted = new Set(days.map((day) => day.date));
  for (const date of [...cache.days.keys()]) if (!wanted.has(date)) cache.days.delete(date);
}

const eventsKey = (day: LocalDay, input: AnalysisInput): string =>
  input.events
    .filter((e) => e.atMs > day.fromMs - marginMs && e.atMs < day.toMs + marginMs)
    .map((e) => `${e.kind}@${String(e.atMs)}`)
    .sort()
    .join(',');

function contentKey(day: LocalDay, input: AnalysisInput): string {
  const { weightG, broodC, cageC, outsideC, rainMm } = input.series;
  return [weightG, broodC, cageC, outsideC, rainMm].map((series) => checksum(series, day)).join(';');
}

/** Number of readings and two sums that see order, time and value of each. */
function checksum(series: Series | undefined, day: LocalDay): string {
  if (!series) return '-';
  const from = indexAt(series, day.fromMs - marginMs);
  const to = indexAt(series, day.toMs + marginMs);
  let plain = 0;
  let turned = 0;
  for (let i = from; i < to; i++) {
    const v = series.value[i] as number;
    const place = 1 + ((i - from) % 8191);
    plain += v;
    turned += v * place + ((series.atMs[i] as number) - day.fromMs) * 1e-7 * (1 + (place % 97));
  }
  return `${String(to - from)}:${String(plain)}:${String(turned)}`;
}
