/** The lines of a nuc's chart: what its width needs of each place, gaps as gaps, suspects apart. */
import type { ChartDto } from '../../contract/chart.ts';
import type { Position, Stretch } from '../../store/places/assignments.ts';
import type { Hive } from '../../store/places/hives.ts';
import type { WidthAnswer } from '../../store/readings/chart-width.ts';
import type { Store } from '../../store/store.ts';
import { siteWide } from '../../watch/nuc-series.ts';
import { rounded } from '../rounded.ts';

type Line = ChartDto['series'][number];

export interface ChartSpan {
  readonly fromMs: number;
  readonly toMs: number;
  readonly pixels: number;
  readonly suspect: boolean;
}

const drawn: readonly { readonly position: Position; readonly label: string; readonly digits: number }[] = [
  { position: 'scale', label: 'Weight', digits: 3 },
  { position: 'brood', label: 'Brood frame', digits: 2 },
  { position: 'cage', label: 'Cage', digits: 2 },
  { position: 'outside', label: 'Outside', digits: 2 },
  { position: 'rain', label: 'Rain', digits: 2 },
];

/** What stood at each place: what each sensor told that stood there, one after the other. */
export function chartSeries(store: Store, nuc: Hive, span: ChartSpan): Line[] {
  return drawn.flatMap(({ position, label, digits }) => {
    const stretches = stretchesOf(store, nuc, position, span);
    const first = stretches[0];
    if (!first) return [];
    const unit = store.channels.get(first.channelId)?.unit ?? '';
    const points = stretches.flatMap((stretch, i) => {
      const told = store.readings.forWidth({ ...stretch, pixels: pixelsOf(stretch, span) });
      // Where one sensor took over from another the line must not join them.
      return i === 0 ? pointsOf(told, digits) : [gapAt(stretch.fromMs), ...pointsOf(told, digits)];
    });
    const suspects = span.suspect ? stretches.flatMap((stretch) => suspectsOf(store, stretch, digits)) : [];
    return [{ place: position, unit, label, points, suspects }];
  });
}

/** Nothing is known there: the line is not drawn through. */
const gapAt = (atMs: number): Line['points'][number] => [atMs, null];

/** `[at, value]` each, or `[at, mean, low, high]` of buckets, to `digits` decimals. */
export function pointsOf({ kind, atMs, mean, min, max }: WidthAnswer, digits: number): Line['points'] {
  const points: Line['points'] = [];
  for (let i = 0; i < atMs.length; i += 1) {
    const at = atMs[i] ?? NaN;
    const middle = rounded(mean[i] ?? NaN, digits);
    if (Number.isNaN(middle)) points.push(gapAt(at));
    else if (kind === 'points') points.push([at, middle]);
    else
      points.push([Math.round(at), middle, rounded(min[i] ?? NaN, digits), rounded(max[i] ?? NaN, digits)]);
  }
  return points;
}

function stretchesOf(store: Store, nuc: Hive, position: Position, { fromMs, toMs }: ChartSpan): Stretch[] {
  const own = store.places.stretches({ hiveId: nuc.id }, position, fromMs, toMs);
  if (own.length > 0 || !siteWide.has(position)) return own;
  return store.places.stretches({ siteId: nuc.siteId }, position, fromMs, toMs);
}

const pixelsOf = (stretch: Stretch, span: ChartSpan): number =>
  Math.max(1, Math.round((span.pixels * (stretch.toMs - stretch.fromMs)) / (span.toMs - span.fromMs)));

const mostSuspects = 2000;

function suspectsOf(store: Store, { channelId, fromMs, toMs }: Stretch, digits: number): Line['suspects'] {
  const raw = store.readings.query({ channelId, fromMs, toMs, resolution: 'raw', includeSuspect: true });
  const found: Line['suspects'] = [];
  for (const [i, at] of raw.atMs.entries()) {
    if (raw.suspect[i] && found.length < mostSuspects) found.push([at, rounded(raw.value[i] ?? 0, digits)]);
  }
  return found;
}
