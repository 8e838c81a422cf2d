/** A chart's points as JSON, made of columns, not of an array a point. */
import type { WidthAnswer } from '../store/readings/chart-width.ts';
import type { JsonBytes } from './json-bytes.ts';

/** Nothing is known there: the line is not drawn through. */
export function putGap(into: JsonBytes, atMs: number): void {
  into.next();
  into.text(`[${String(atMs)},null]`);
}

/** `[at,value]` each, or `[at,mean,low,high]` of buckets, as the next items of a list; rounded to `digits` decimals. */
export function putPoints(
  into: JsonBytes,
  { kind, atMs, mean, min, max }: WidthAnswer,
  digits: number,
): void {
  for (let i = 0; i < atMs.length; i += 1) {
    const at = atMs[i] ?? 0;
    const middle = mean[i] ?? NaN;
    if (Number.isNaN(middle)) {
      putGap(into, at);
      continue;
    }
    into.open();
    if (kind === 'buckets' || Number.isInteger(at)) into.number(at, 0);
    else into.text(String(at));
    into.number(middle, digits);
    if (kind === 'buckets') {
      into.number(min[i] ?? middle, digits);
      into.number(max[i] ?? middle, digits);
    }
    into.close();
  }
}
