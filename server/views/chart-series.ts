/** The lines of a nuc's chart: what its width needs of each place, gaps as gaps, suspects apart. */
import type { ChartDto } from '../contract/chart.ts';
import type { Position, Stretch } from '../store/places/assignments.ts';
import type { Hive } from '../store/places/hives.ts';
import type { WidthAnswer } from '../store/readings/chart-width.ts';
import type { Store } from '../store/store.ts';
import { siteWide } from '../watch/nuc-series.ts';
import { rounded } from './rounded.ts';

type Suspects = ChartDto['series'][number]['suspects'];

/** What stood at one place, in columns: what each sensor told that stood there, one after the other. */
export interface ChartLine extends Omit<ChartDto['series'][number], 'points'> {
  readonly parts: readonly { readonly fromMs: number; readonly told: WidthAnswer }[];
  /** Decimals that are shown. */
  readonly digits: number;
}

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

export function chartSeries(store: Store, nuc: Hive, span: ChartSpan): ChartLine[] {
  return drawn.flatMap(({ position, label, digits }) => {
    const stretches = stretchesOf(store, nuc, position, span);
    const first = stretches[0];
    if (!first) return [];
    const unit = store.channels.get(first.channelId)?.unit ?? '';
    const parts = stretches.map((stretch) => ({
      fromMs: stretch.fromMs,
      told: store.readings.forWidth({ ...stretch, pixels: pixelsOf(stretch, span) }),
    }));
    const suspects = span.suspect ? stretches.flatMap((stretch) => suspectsOf(store, stretch, digits)) : [];
    return [{ place: position, unit, label, parts, digits, suspects }];
  });
}

function stretchesOf(store: Store, nuc: Hive, position: Position, { fromMs, toMs }: ChartSpan): Stretch[] {
  const own = store.places.stretches({ hiveId: nuc.id }, position, fromMs, toMs);
  if (own.length > 0 || !siteWide.has(position)) return own;
  return store.places.stretches({ siteId: nuc.siteId }, position, fromMs, toMs);
}

const pixelsOf = (stretch: Stretch, span: ChartSpan): number =>
  Math.max(1, Math.round((span.pixels * (stretch.toMs - stretch.fromMs)) / (span.toMs - span.fromMs)));

const mostSuspects = 2000;

function suspectsOf(store: Store, { channelId, fromMs, toMs }: Stretch, digits: number): Suspects {
  const raw = store.readings.query({ channelId, fromMs, toMs, resolution: 'raw', includeSuspect: true });
  const found: Suspects = [];
  for (const [i, at] of raw.atMs.entries()) {
    if (raw.suspect[i] && found.length < mostSuspects) found.push([at, rounded(raw.value[i] ?? 0, digits)]);
  }
  return found;
}
