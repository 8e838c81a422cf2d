/** Readings of one channel in a span of time, both layers, calibrated. */
import type { Line } from './calibration.ts';
import { dayOf, fromMicro, lowerBound, mergeDays, type DayReadings } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';

export interface RawSpan {
  readonly atMs: Float64Array;
  readonly value: Float64Array;
  /** 0, or the number of the reason (`suspectReason`). */
  readonly suspect: Uint8Array;
}

/** Everything that came, suspects too; `arrivedAtMs` is to the second where that was over a minute away from the time told. */
export interface ArrivalSpan extends RawSpan {
  readonly arrivedAtMs: Float64Array;
}

export type LineSpans = readonly { readonly fromMs: number; readonly line: Line }[];

export interface SpanOfChannel {
  readonly channelId: number;
  readonly fromMs: number;
  readonly toMs: number;
}

/** Days in [fromMs, toMs) that have readings, ascending, hot and sealed merged. */
function daysInSpan(
  layers: ReadingLayers,
  { channelId, fromMs, toMs }: SpanOfChannel,
): { day: number; readings: DayReadings }[] {
  const newest = layers.latest.of(channelId);
  if (!newest || toMs <= fromMs) return [];
  const firstDay = dayOf(Math.max(fromMs, newest.firstMs, 0));
  const lastDay = dayOf(Math.min(toMs - 1, newest.atMs));
  if (lastDay < firstDay) return [];
  const days = layers.sealed.readSpan(channelId, firstDay, lastDay);
  const hotDays = layers.hot.daysOf(channelId).filter((day) => day >= firstDay && day <= lastDay);
  if (hotDays.length === 0) return days;
  const byDay = new Map(days.map(({ day, readings }) => [day, readings]));
  for (const day of hotDays) {
    const hot = layers.hot.day(channelId, day);
    const sealed = byDay.get(day);
    if (hot) byDay.set(day, sealed ? mergeDays(sealed, hot) : hot);
  }
  return [...byDay].sort(([a], [b]) => a - b).map(([day, readings]) => ({ day, readings }));
}

export function rawSpan(
  layers: ReadingLayers,
  span: SpanOfChannel,
  lines: LineSpans,
  includeSuspect: boolean,
): RawSpan {
  return spanOf(daysInSpan(layers, span), span, lines, includeSuspect);
}

export function arrivalSpan(layers: ReadingLayers, span: SpanOfChannel, lines: LineSpans): ArrivalSpan {
  const days = daysInSpan(layers, span);
  const found = spanOf(days, span, lines, true);
  const arrivedAtMs = found.atMs.slice();
  let length = 0;
  for (const { readings } of days) {
    const from = lowerBound(readings.atMs, readings.length, span.fromMs);
    const to = lowerBound(readings.atMs, readings.length, span.toMs);
    for (let i = from; i < to; i += 1, length += 1) {
      const receivedS = readings.receivedS[i] ?? 0;
      if (receivedS !== 0) arrivedAtMs[length] = receivedS * 1000;
    }
  }
  return { ...found, arrivedAtMs };
}

function spanOf(
  days: ReturnType<typeof daysInSpan>,
  span: SpanOfChannel,
  lines: LineSpans,
  includeSuspect: boolean,
): RawSpan {
  const most = days.reduce((sum, { readings }) => sum + readings.length, 0);
  const atMs = new Float64Array(most);
  const value = new Float64Array(most);
  const suspect = new Uint8Array(most);
  let length = 0;
  for (const { readings } of days) {
    const from = lowerBound(readings.atMs, readings.length, span.fromMs);
    const to = lowerBound(readings.atMs, readings.length, span.toMs);
    for (let i = from; i < to; i += 1) {
      const flag = readings.flag[i] ?? 0;
      if (flag !== 0 && !includeSuspect) continue;
      atMs[length] = readings.atMs[i] ?? 0;
      value[length] = fromMicro(readings.micro[i] ?? 0);
      suspect[length] = flag;
      length += 1;
    }
  }
  const found = {
    atMs: atMs.subarray(0, length),
    value: value.subarray(0, length),
    suspect: suspect.subarray(0, length),
  };
  calibrate(found, lines);
  return found;
}

function calibrate({ atMs, value }: RawSpan, lines: LineSpans): void {
  lines.forEach(({ fromMs, line }, i) => {
    if (line.isIdentity) return;
    const to = lowerBound(atMs, atMs.length, lines[i + 1]?.fromMs ?? Infinity);
    for (let at = lowerBound(atMs, atMs.length, fromMs); at < to; at += 1) {
      value[at] = line.apply(value[at] ?? 0);
    }
  });
}
