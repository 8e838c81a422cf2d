/**
 * A chart's points as the text of JSON. Made of columns, not of an array a point: ten thousand small arrays of a season
 * outlive the young part of a small heap, and every twentieth chart waited until the whole heap was looked through.
 */
import type { WidthAnswer } from '../store/readings/chart-width.ts';
import { rounded } from './rounded.ts';

/** Nothing is known there: the line is not drawn through. */
export const gapJson = (atMs: number): string => `[${String(atMs)},null]`;

/** `[at,value]` each, or `[at,mean,low,high]` of buckets, with commas between them; rounded to `digits` decimals. */
export function pointsJson({ kind, atMs, mean, min, max }: WidthAnswer, digits: number): string {
  const told = (value: number): string => JSON.stringify(rounded(value, digits));
  let json = '';
  for (const [i, at] of atMs.entries()) {
    const middle = mean[i] ?? NaN;
    if (i > 0) json += ',';
    if (Number.isNaN(middle)) json += gapJson(at);
    else if (kind === 'points') json += `[${String(at)},${told(middle)}]`;
    else
      json += `[${String(Math.round(at))},${told(middle)},${told(min[i] ?? middle)},${told(max[i] ?? middle)}]`;
  }
  return json;
}
