/** A batch aligned on the same day, each nuc against the band of the others. */
import { dayNumber } from '../introduction/calendar.ts';
import type { BatchReview } from '../contract/review.ts';
import type { ParsedQueryOf } from '../contract/index.ts';
import { quantiles } from '../signals/statistics/robust.ts';
import type { NucAnalysis } from '../watch/nuc-analysis.ts';
import { rounded } from './rounded.ts';

type Query = ParsedQueryOf<'reviewBatch'>;

/** Below this a band of the batch would be the nucs themselves. */
const fewestNucs = 4;
const longestDays = 42;

export function batchView(all: readonly NucAnalysis[], query: Query): BatchReview {
  const batches = [...new Set(all.flatMap(({ nuc }) => nuc.batch ?? []))].sort();
  // Two batches stand at different days under different skies: one is compared at a time.
  const batch = query.batch ?? mostFinished(all) ?? batches[0];
  const members = all.filter(({ nuc }) => nuc.batch === batch);
  const curves = members.flatMap((analysis) => {
    const values = valuesByDay(analysis, query);
    return values.size > 0 ? [{ analysis, values }] : [];
  });
  const last = Math.min(longestDays, Math.max(0, ...curves.flatMap(({ values }) => [...values.keys()])));
  const days = Array.from({ length: last + 1 }, (_, day) => day);
  const band = days.map((day) => bandOf(curves.flatMap(({ values }) => values.get(day) ?? [])));
  const nucs = curves.map(({ analysis, values }) =>
    nucLine(
      analysis,
      days.map((day) => values.get(day) ?? null),
      band,
      days,
    ),
  );
  return {
    batches,
    ...(batch === undefined ? {} : { batch }),
    unit: query.quantity === 'night-weight' ? 'kg' : '°C',
    days,
    band,
    nucs,
    summary: summary(nucs, query.alignedOn, batch),
  };
}

/** The batch of which most nucs have an outcome, or at least a queen let out: there is something to look back on. */
function mostFinished(all: readonly NucAnalysis[]): string | undefined {
  const points = new Map<string, number>();
  for (const { nuc, state } of all) {
    if (nuc.batch === undefined) continue;
    const one = state?.outcome ? 10 : state?.queen.releasedAtMs == null ? 0 : 1;
    points.set(nuc.batch, (points.get(nuc.batch) ?? 0) + one);
  }
  return [...points].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0]?.[0];
}

function valuesByDay(
  { state, signals, site }: NucAnalysis,
  { alignedOn, quantity }: Query,
): Map<number, number> {
  const day0 = alignedOn === 'split' ? state?.day0Ms : state?.queen.releasedAtMs;
  const values = new Map<number, number>();
  if (!signals || day0 == null) return values;
  const put = (date: string, value: number): void => {
    // Noon of that date lies on it in every zone's calendar.
    const day = dayNumber(day0, Date.parse(`${date}T12:00:00Z`), site.timeZone);
    if (day >= 0 && day <= longestDays) values.set(day, value);
  };
  if (quantity === 'night-weight')
    for (const night of signals.nightWeights) put(night.date, rounded(night.levelG / 1000, 3));
  else
    for (const day of signals.broodDays)
      put(day.date, rounded(quantity === 'brood-temperature' ? day.medianC : day.spreadC, 2));
  return values;
}

type Band = BatchReview['band'][number];

function bandOf(values: readonly number[]): Band {
  if (values.length < fewestNucs) return null;
  const [low = 0, middle = 0, high = 0] = quantiles(values, 0.1, 0.5, 0.9);
  return { low: rounded(low, 3), middle: rounded(middle, 3), high: rounded(high, 3) };
}

/** Outside for two days running, and still: one odd day is a probe or a visit. */
function nucLine(
  { nuc }: NucAnalysis,
  values: (number | null)[],
  band: readonly Band[],
  days: readonly number[],
): BatchReview['nucs'][number] {
  const outside = days.filter((day) => {
    const value = values[day];
    const around = band[day];
    return value != null && around != null && (value < around.low || value > around.high);
  });
  const lastKnown = values.findLastIndex((value) => value !== null);
  let since: number | null = null;
  for (let day = lastKnown; outside.includes(day); day -= 1) since = day;
  const lasting = since !== null && lastKnown - since >= 1 ? since : null;
  const text =
    lasting === null ? 'with its batch' : `outside the band of its batch since day ${String(lasting)}`;
  return { id: nuc.id, name: nuc.name, values, outsideSinceDay: lasting, text };
}

function summary(
  nucs: BatchReview['nucs'],
  alignedOn: Query['alignedOn'],
  batch: string | undefined,
): string {
  if (nucs.length === 0) return 'No nuc of this batch has readings on those days.';
  const out = nucs.filter((nuc) => nuc.outsideSinceDay !== null).map((nuc) => nuc.name);
  const who = `${nucs.length === 1 ? '1 nuc' : `${String(nucs.length)} nucs`}${batch === undefined ? '' : ` of ${batch}`}, day 0 is the ${alignedOn}`;
  if (nucs.length < fewestNucs) return `${who}: too few for a band of their own.`;
  return out.length === 0
    ? `${who}: none lies outside the band of the others.`
    : `${who}: ${out.join(', ')} outside the band.`;
}
