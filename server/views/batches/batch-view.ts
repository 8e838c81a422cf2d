/** A batch aligned on the same day, each nuc against the batch's own band, and what became of its queen. */
import { atHourOfDate, dayNumber, isoDate } from '../../introduction/calendar.ts';
import { ofKind } from '../../introduction/log/effective-facts.ts';
import type { BatchReview } from '../../contract/review.ts';
import type { ParsedQueryOf } from '../../contract/index.ts';
import { alignCohort, leastDistance, type Cohort } from '../../signals/cohort.ts';
import type { BatchMember, ReviewedBatch } from './reviewed-batch.ts';
import { rounded } from '../rounded.ts';
import { counted } from '../../words/sentence.ts';

type Query = ParsedQueryOf<'reviewBatch'>;
type Line = BatchReview['nucs'][number];

const longestDays = 42;
const noon = 12;
/** A day that is half covered says little beside a whole one. */
const leastCoverage = 0.5;

export function batchView({ batches, batch, members }: ReviewedBatch, query: Query): BatchReview {
  const curves = members.flatMap((member) => {
    const values = valuesByDay(member, query);
    return values.size > 0 ? [{ member, values }] : [];
  });
  const last = Math.min(longestDays, Math.max(0, ...curves.flatMap(({ values }) => [...values.keys()])));
  const days = Array.from({ length: last + 1 }, (_, day) => day);
  const cohort = cohortOf(curves, query);
  const bandOn = new Map(cohort.band.map((one) => [one.day, one]));
  const band = days.map((day) => {
    const one = bandOn.get(day);
    return one
      ? { low: rounded(one.low, 3), middle: rounded(one.median, 3), high: rounded(one.high, 3) }
      : null;
  });
  const nucs = curves.map(({ member, values }) => nucLine(member, days, values, cohort));
  return {
    batches: [...batches],
    ...(batch === undefined ? {} : { batch }),
    unit: query.quantity === 'night-weight' ? 'kg' : '°C',
    days,
    band,
    nucs,
    summary: summary(nucs, members.length, query.alignedOn, batch, cohort),
  };
}

function valuesByDay(
  { analysis: { state, signals, site } }: BatchMember,
  { alignedOn, quantity }: Query,
): Map<number, number> {
  const day0 = alignedOn === 'split' ? state?.day0Ms : state?.queen.releasedAtMs;
  const values = new Map<number, number>();
  if (!signals || day0 == null) return values;
  const put = (date: string, value: number): void => {
    const day = dayNumber(day0, atHourOfDate(date, noon, site.timeZone), site.timeZone);
    if (day >= 0 && day <= longestDays) values.set(day, value);
  };
  if (quantity === 'night-weight')
    for (const night of signals.nightWeights) put(night.date, rounded(night.levelG / 1000, 3));
  else
    for (const day of signals.broodDays)
      if (day.coverage >= leastCoverage)
        put(day.date, rounded(quantity === 'brood-temperature' ? day.medianC : day.spreadC, 2));
  return values;
}

const leastOf: Readonly<Record<Query['quantity'], number>> = {
  'brood-temperature': leastDistance.broodC,
  'brood-spread': leastDistance.broodSpreadK,
  'night-weight': 0,
};

/** Already aligned: every nuc's day 0 stands for the same invented date. */
const dayZero = '2000-01-01';
const dateOf = (day: number): string =>
  new Date(Date.parse(dayZero) + day * 86_400_000).toISOString().slice(0, 10);

const isLost = (outcome: Line['outcome']): boolean => outcome != null && outcome !== 'accepted';

const cohortOf = (
  curves: readonly { readonly member: BatchMember; readonly values: ReadonlyMap<number, number> }[],
  { quantity }: Query,
): Cohort =>
  alignCohort(
    curves.map(({ member, values }) => ({
      id: member.analysis.nuc.id,
      dayZero,
      isLost: isLost(member.state?.outcome?.outcome ?? null),
      values: [...values].map(([day, value]) => ({ date: dateOf(day), value })),
    })),
    leastOf[quantity],
  );

function nucLine(
  { analysis: { nuc, site }, state, earlier }: BatchMember,
  days: readonly number[],
  values: ReadonlyMap<number, number>,
  cohort: Cohort,
): Line {
  const outsider = cohort.outsiders.find(({ id }) => id === nuc.id);
  const side = outsider?.side === 'under' ? 'below' : 'above';
  return {
    id: nuc.id,
    name: nuc.name,
    values: days.map((day) => values.get(day) ?? null),
    outsideSinceDay: outsider?.sinceDay ?? null,
    outcome: state?.outcome?.outcome ?? null,
    ...(earlier.length > 0 && { earlier: [...earlier] }),
    grafted: ofKind(state?.facts ?? [], 'grafted').map(({ atMs }) => isoDate(atMs, site.timeZone)),
    text: outsider ? `${side} the band from day ${String(outsider.sinceDay)} on` : 'with its batch',
  };
}

function summary(
  nucs: readonly Line[],
  ofAll: number,
  alignedOn: Query['alignedOn'],
  batch: string | undefined,
  { band }: Cohort,
): string {
  if (nucs.length === 0) return 'No nuc of this batch has readings on those days.';
  const out = nucs.filter((nuc) => nuc.outsideSinceDay !== null).map((nuc) => nuc.name);
  const all = `${counted(ofAll, 'nuc')}${batch === undefined ? '' : ` of ${batch}`}`;
  const who =
    nucs.length === ofAll
      ? all
      : `${String(nucs.length)} of ${all} ${nucs.length === 1 ? 'is' : 'are'} drawn`;
  const standing =
    band.length === 0
      ? 'Too few for a band of their own.'
      : out.length === 0
        ? 'None lies outside the band of the batch.'
        : `Outside the band: ${out.join(', ')}.`;
  return `${who}${ends(nucs)}. Day 0 is the ${alignedOn}. ${standing}`;
}

/** What became of the queens, where it is known of any. */
function ends(nucs: readonly Line[]): string {
  const last = nucs.flatMap(({ outcome }) => outcome ?? []);
  const known = [...nucs.flatMap(({ earlier = [] }) => earlier), ...last];
  if (known.length === 0) return '';
  const accepted = known.filter((outcome) => outcome === 'accepted').length;
  const lost = known.length - accepted;
  const open = nucs.length - last.length;
  return `: ${counted(accepted, 'queen')} accepted, ${String(lost)} lost${open > 0 ? `, ${String(open)} still open` : ''}`;
}
