/** The hours of a forecast as they are written, and the night that they foresee. */
import * as z from 'zod';
import { isoTime } from '../contract/common.ts';
import { nestedTooDeep, parseJson } from '../json-text.ts';
import type { Forecast } from '../signals/types.ts';
import type { Site } from '../store/places/sites.ts';
import { atHourOfDate } from '../introduction/calendar.ts';
import { endOfNight } from './next-dawn.ts';
import { hourMs } from '../durations.ts';

/** A night can't be read off wider steps: its coldest hour may lie between two of them. */
const widestStepMs = 3 * hourMs;
/** Services give the days further ahead in wider steps; the night that counts lies within this. */
const finePartMs = 24 * hourMs;
/** Older than this a forecast is no longer believed. */
export const staleMs = 12 * hourMs;

const forecastSchema = z
  .array(
    z.object({
      time: isoTime,
      temperature: z.number().min(-60).max(60).describe('°C'),
      wind: z.number().min(0).max(100).optional().describe('m/s'),
      rain: z.number().min(0).max(500).optional().describe('mm in that hour'),
      cloud: z.number().min(0).max(1).optional().describe('Share of the sky'),
    }),
  )
  .min(1)
  .max(1000);

export interface Hour {
  readonly atMs: number;
  readonly temperatureC: number;
}

/** How it stands with the forecast of one site. */
export interface ForecastState {
  readonly site: string;
  /** Of the address only the host: the rest may hold a key. Or the topic on which it was published. */
  readonly host: string;
  readonly fetchedAtMs: number | null;
  readonly problem: string | null;
}

/** With when it was made, where it says so. */
const issuedSchema = z.object({ issued: isoTime, hours: forecastSchema });

export type ReadHours =
  | { readonly ok: true; readonly hours: readonly Hour[]; readonly issuedAtMs: number | null }
  | { readonly ok: false; readonly why: string };

/** The hours in their order, or why it is no forecast. */
export function readHours(text: string): ReadHours {
  const read = parseJson(text);
  if (!read.ok) return { ok: false, why: read.why === 'nested' ? nestedTooDeep : 'it is not JSON' };
  const json = read.value;
  const bare = Array.isArray(json) || typeof json !== 'object';
  const parsed = bare
    ? forecastSchema.transform((hours) => ({ hours, issued: undefined })).safeParse(json)
    : issuedSchema.safeParse(json);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    return {
      ok: false,
      why: `at ${issue?.path.join('/') || 'the top'}: ${issue?.message ?? 'not an array of hours'}`,
    };
  }
  const { issued } = parsed.data;
  const hours = parsed.data.hours
    .map(({ time, temperature }) => ({ atMs: Date.parse(time), temperatureC: temperature }))
    .toSorted((a, b) => a.atMs - b.atMs);
  const stepMs = widestStep(hours);
  if (stepMs > widestStepMs) {
    const most = String(widestStepMs / hourMs);
    return { ok: false, why: `its steps are ${String(stepMs / hourMs)} hours wide; at most ${most} will do` };
  }
  return {
    ok: true,
    hours,
    issuedAtMs: issued === undefined ? null : Date.parse(issued),
  };
}

/** Of the first day. */
function widestStep(hours: readonly Hour[]): number {
  const [first, ...later] = hours;
  let widestMs = 0;
  let lastMs = first?.atMs ?? 0;
  const endMs = lastMs + finePartMs;
  for (const { atMs } of later) {
    if (lastMs >= endMs) break;
    widestMs = Math.max(widestMs, atMs - lastMs);
    lastMs = atMs;
  }
  return widestMs;
}

/** The coldest hour until dawn; undefined where the hours do not reach so far or leave a gap of hours. */
export function nightOf(
  hours: readonly Hour[],
  site: Site,
  atMs: number,
  source: string,
): Forecast | undefined {
  const byMs = endOfNight(site, atMs);
  const night = hours.filter((hour) => hour.atMs > atMs - hourMs && hour.atMs < byMs + hourMs);
  if (night.length === 0 || isGappy(night, atMs, byMs)) return undefined;
  return { minC: Math.min(...night.map(({ temperatureC }) => temperatureC)), byMs, source };
}

/** Whether more than the widest step between the two instants is not told of. */
function isGappy(hours: readonly Hour[], fromMs: number, toMs: number): boolean {
  const instants = [fromMs, ...hours.map(({ atMs }) => atMs), toMs];
  return instants.slice(1).some((atMs, i) => atMs - (instants[i] as number) > widestStepMs);
}

/** Method: the warmest hour of a day lies among these. */
const warmestHours = { from: 12, to: 17 };

/** The warmest hour of a date at a site, °C; undefined where the hours don’t reach it or leave a gap of hours. */
export function warmestOf(hours: readonly Hour[], { timeZone }: Site, date: string): number | undefined {
  const fromMs = atHourOfDate(date, warmestHours.from, timeZone);
  const toMs = atHourOfDate(date, warmestHours.to, timeZone);
  const told = hours.filter(({ atMs }) => atMs >= fromMs && atMs <= toMs);
  return told.length === 0 || isGappy(told, fromMs, toMs)
    ? undefined
    : Math.max(...told.map(({ temperatureC }) => temperatureC));
}
