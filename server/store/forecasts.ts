/**
 * Weather forecasts as they became known: the newest is wanted again after a restart, and a replay wants those of its time.
 * Hours of the past, and those that no night ahead can use, are not kept.
 */
import * as z from 'zod';
import type { Context } from './context.ts';
import { hourMs, minuteMs } from '../durations.ts';

/** The night ahead ends within a day, and half a day later a forecast is no longer believed. */
const reachMs = 48 * hourMs;
const backMs = 2 * hourMs;
/** A source that tells one with each breath has only the last of so long kept. */
const closestMs = 10 * minuteMs;
/** A season and the one before it. */
const keptMs = 400 * 24 * hourMs;

export type ForecastKind = 'address' | 'topic';

export interface KeptForecast {
  readonly kind: ForecastKind;
  /** Null where it is for every site. */
  readonly siteId: string | null;
  /** The host of an address, or a topic. */
  readonly source: string;
  readonly saidAtMs: number;
  readonly knownAtMs: number;
  /** In their order; none where it was withdrawn. */
  readonly hours: readonly { readonly atMs: number; readonly temperatureC: number }[];
}

export interface Forecasts {
  keep(forecast: KeptForecast): void;
  /** All that are kept, as they became known. */
  list(): KeptForecast[];
  /** The one that was known last at an instant. */
  at(kind: ForecastKind, siteId: string | null, atMs: number): KeptForecast | undefined;
}

interface Row {
  readonly known_ms: number;
  readonly said_ms: number;
  readonly source: string;
  readonly hours: string;
}

const hoursSchema = z.array(z.number());

export function forecasts(context: Context): Forecasts {
  const { db, unreadable } = context;
  const readHours = (row: Row): KeptForecast['hours'] =>
    unreadable.read('forecast', String(row.known_ms), () => hoursOf(row)) ?? [];
  const newest = db.prepare<[string, string, number], Row>(
    `SELECT known_ms, said_ms, source, hours FROM forecast
     WHERE kind = ? AND site_id = ? AND known_ms <= ? ORDER BY known_ms DESC LIMIT 1`,
  );
  const all = db.prepare<[], Row & { readonly kind: ForecastKind; readonly site_id: string }>(
    'SELECT * FROM forecast ORDER BY known_ms',
  );
  const put = db.prepare<[string, string, number, number, string, string]>(
    `INSERT INTO forecast (kind, site_id, known_ms, said_ms, source, hours) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (kind, site_id, known_ms)
     DO UPDATE SET said_ms = excluded.said_ms, source = excluded.source, hours = excluded.hours`,
  );
  const remove = db.prepare<[string, string, number]>(
    'DELETE FROM forecast WHERE kind = ? AND site_id = ? AND known_ms = ?',
  );
  const forget = db.prepare<[string, string, number]>(
    'DELETE FROM forecast WHERE kind = ? AND site_id = ? AND known_ms < ?',
  );

  return {
    keep({ kind, siteId, source, saidAtMs, knownAtMs, hours }) {
      const site = siteId ?? '';
      const wanted = hours.filter(({ atMs }) => atMs > knownAtMs - backMs && atMs < knownAtMs + reachMs);
      const text = (sinceMs: number): string =>
        JSON.stringify(
          wanted.flatMap(({ atMs, temperatureC }) => [Math.round((atMs - sinceMs) / minuteMs), temperatureC]),
        );
      const before = newest.get(kind, site, knownAtMs);
      // A broker says what it retained again with each connection.
      if (before?.said_ms === saidAtMs && before.source === source && saysTheSame(readHours(before), wanted))
        return;
      context.write(() => {
        const believed = wanted.length > 0 && before && before.hours !== '[]';
        if (believed && before.known_ms > knownAtMs - closestMs) remove.run(kind, site, before.known_ms);
        put.run(kind, site, knownAtMs, saidAtMs, source, text(knownAtMs));
        forget.run(kind, site, knownAtMs - keptMs);
      });
    },
    list: () =>
      all.all().map((row) => ({
        kind: row.kind,
        siteId: row.site_id === '' ? null : row.site_id,
        source: row.source,
        saidAtMs: row.said_ms,
        knownAtMs: row.known_ms,
        hours: readHours(row),
      })),
    at(kind, siteId, atMs) {
      const row = newest.get(kind, siteId ?? '', atMs);
      return (
        row && {
          kind,
          siteId,
          source: row.source,
          saidAtMs: row.said_ms,
          knownAtMs: row.known_ms,
          hours: readHours(row),
        }
      );
    },
  };
}

/** Of the same hours: later ones may have come within reach since. */
function saysTheSame(before: KeptForecast['hours'], now: KeptForecast['hours']): boolean {
  const known = new Map(before.map(({ atMs, temperatureC }) => [atMs, temperatureC]));
  const lastMs = before.at(-1)?.atMs ?? -Infinity;
  return now.every(({ atMs, temperatureC }) => atMs > lastMs || known.get(atMs) === temperatureC);
}

/** Throws where the row can't be read. */
export function hoursOf({
  known_ms: knownMs,
  hours,
}: Pick<Row, 'known_ms' | 'hours'>): KeptForecast['hours'] {
  const numbers = hoursSchema.parse(JSON.parse(hours));
  return Array.from({ length: numbers.length / 2 }, (_, i) => ({
    atMs: knownMs + (numbers[2 * i] as number) * minuteMs,
    temperatureC: numbers[2 * i + 1] as number,
  }));
}
