/** How far the value axis of a chart reaches. Pure. */
import type { Evidence } from './evidence-parts.ts';
import type { Line } from './lines.ts';
import type { Span } from './span.ts';

/** A lifted box or a probe out in the air is a moment; this share of the values may lie beyond the drawing. */
const momentsShare = 0.005;
const marginShare = 0.08;

export interface ValueRange {
  readonly low: number;
  readonly high: number;
  /** Whether something lies beyond it. */
  readonly cut: boolean;
}

/** From what is in sight: the usual run of the lines, and all of the evidence. Undefined where nothing is in sight. */
export function valueRange(lines: readonly Line[], evidence: Evidence, span: Span): ValueRange | undefined {
  const inSight = (atMs: number): boolean => atMs >= span.fromMs && atMs <= span.toMs;
  const values = lines
    .flatMap((line) => line.points.flatMap(({ x, y }) => (y !== null && inSight(x) ? [y] : [])))
    .sort((a, b) => a - b);
  const first = values[0];
  const last = values.at(-1);
  if (first === undefined || last === undefined) return undefined;
  const drop = Math.floor(values.length * momentsShare);
  const snapshot = [
    values[drop] ?? first,
    values[values.length - 1 - drop] ?? last,
    ...evidence.nights.filter((night) => inSight(night.to)).map((night) => night.level),
    ...evidence.drift.filter((point) => inSight(point.at)).flatMap((point) => [point.low, point.high]),
    ...evidence.bands
      .filter((band) => band.to > span.fromMs && band.from < span.toMs)
      .flatMap((band) => [band.low, band.high]),
    ...(evidence.outlook && inSight(evidence.outlook.at)
      ? [evidence.outlook.low, evidence.outlook.high]
      : []),
  ];
  const low = snapshot.reduce((a, b) => Math.min(a, b));
  const high = snapshot.reduce((a, b) => Math.max(a, b));
  const margin = Math.max((high - low) * marginShare, 0.02);
  return { low: low - margin, high: high + margin, cut: first < low - margin || last > high + margin };
}
