/** From the server's answer to lines in the reader's units. Pure. */
import type { ChartDto } from '../../server/contract/chart.ts';
import type { Display } from '../format/units.ts';
import { fixed, shownUnit, toShown } from '../format/units.ts';

export type Group = 'weight' | 'warmth' | 'outside';
type Series = ChartDto['series'][number];
type WirePoint = Series['points'][number];

export interface XY {
  readonly x: number;
  readonly y: number | null;
}
export interface Line {
  readonly place: Series['place'];
  readonly label: string;
  readonly unit: string;
  readonly points: readonly XY[];
  /** Lowest and highest of each bucket, where there are buckets. */
  readonly low: readonly XY[];
  readonly high: readonly XY[];
  readonly suspects: readonly XY[];
}

const groupOf: Readonly<Record<Series['place'], Group | undefined>> = {
  scale: 'weight',
  brood: 'warmth',
  cage: 'warmth',
  outside: 'outside',
  rain: undefined,
  humidity: undefined,
  battery: undefined,
};

export function linesOf(chart: ChartDto, group: Group, display: Display): readonly Line[] {
  return chart.series
    .filter((series) => groupOf[series.place] === group)
    .map((series) => {
      const at =
        (index: number) =>
        (points: readonly WirePoint[]): XY[] =>
          points.flatMap((point) => {
            const x = point[0];
            const value = point[index];
            if (typeof x !== 'number' || value === undefined) return [];
            return [{ x, y: value === null ? null : toShown(value, series.unit, display) }];
          });
      return {
        place: series.place,
        label: series.label,
        unit: series.unit,
        points: at(1)(series.points),
        low: at(2)(series.points),
        high: at(3)(series.points),
        suspects: at(1)(series.suspects),
      };
    });
}

/** Points that no stroke joins to another: drawn as dots, or a first reading would not be seen at all. */
export const lonePoints = (points: readonly XY[]): readonly XY[] =>
  points.filter(
    ({ y }, i) => y !== null && (points[i - 1]?.y ?? null) === null && (points[i + 1]?.y ?? null) === null,
  );

/** The point nearest to an instant, if any is as near as `reachMs`. */
export function nearest(points: readonly XY[], atMs: number, reachMs: number): XY | undefined {
  let low = 0;
  let high = points.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((points[middle]?.x ?? Infinity) < atMs) low = middle + 1;
    else high = middle;
  }
  const near = [points[low - 1], points[low]].filter((p): p is XY => p !== undefined && p.y !== null);
  const best = near.sort((a, b) => Math.abs(a.x - atMs) - Math.abs(b.x - atMs))[0];
  return best && Math.abs(best.x - atMs) <= reachMs ? best : undefined;
}

/** How far apart two readings may lie to stand in one row of a table: half the usual step of its instants. */
export function sideBySideMs(instants: readonly number[]): number {
  const steps = instants.slice(1).map((at, i) => at - (instants[i] ?? at));
  return (steps.sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? Infinity) / 2;
}

/** `Between 5.1 and 19.0 °C in this time, 12.3 °C at last.` */
export function rangeInWords(lines: readonly Line[], display: Display): string {
  const line = lines[0];
  const values = line?.points.flatMap((point) => (point.y === null ? [] : [point.y])) ?? [];
  const last = values.at(-1);
  if (!line || last === undefined) return 'Nothing was measured in this time.';
  const unit = shownUnit(line.unit, display);
  const low = values.reduce((a, b) => Math.min(a, b));
  const high = values.reduce((a, b) => Math.max(a, b));
  return `Between ${fixed(low, 1)} and ${fixed(high, 1)} ${unit} in this time, ${fixed(last, 1)} ${unit} at last.`;
}
