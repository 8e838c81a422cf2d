/**
 * The reference: what one plain table of readings would answer. It shares no code with the store and knows nothing
 * of layers, days or codes.
 */
import type { IncomingReading } from '../../../server/store/port.ts';

interface Row {
  readonly atMs: number;
  readonly value: number;
  readonly suspect: boolean;
}

interface BucketRow {
  readonly atMs: number;
  readonly count: number;
  readonly min: number;
  readonly max: number;
  readonly mean: number;
  readonly last: number;
}

/** Rounded to the millionth the way a decimal number is, by text. */
const sixDecimals = (value: number): number => Number(value.toFixed(6)) + 0; // − 0 is 0

export class OneTable {
  readonly #rows = new Map<string, Map<number, Row>>();
  readonly conflicts = new Map<string, number>();

  commit(readings: readonly IncomingReading[]): { stored: number; duplicates: number; conflicts: number } {
    const result = { stored: 0, duplicates: 0, conflicts: 0 };
    for (const { sensor, observedAtMs, value: exact, suspect } of readings) {
      const channel = this.#rows.get(sensor) ?? new Map<number, Row>();
      this.#rows.set(sensor, channel);
      const value = sixDecimals(exact);
      const there = channel.get(observedAtMs);
      if (!there) {
        channel.set(observedAtMs, { atMs: observedAtMs, value, suspect: suspect !== undefined });
        result.stored += 1;
      } else if (there.value === value) {
        result.duplicates += 1;
      } else {
        const key = `${sensor} ${String(observedAtMs)} ${String(value)}`;
        this.conflicts.set(key, (this.conflicts.get(key) ?? 0) + 1);
        result.conflicts += 1;
      }
    }
    return result;
  }

  raw(sensor: string, fromMs: number, toMs: number, includeSuspect: boolean): Row[] {
    return [...(this.#rows.get(sensor)?.values() ?? [])]
      .filter((row) => row.atMs >= fromMs && row.atMs < toMs && (includeSuspect || !row.suspect))
      .sort((a, b) => a.atMs - b.atMs);
  }

  /** Buckets that begin in the span. */
  buckets(sensor: string, fromMs: number, toMs: number, widthMs: number): BucketRow[] {
    const starts = new Set(
      this.raw(sensor, 0, Infinity, false).map((row) => row.atMs - (row.atMs % widthMs)),
    );
    return [...starts]
      .filter((start) => start >= fromMs && start < toMs)
      .sort((a, b) => a - b)
      .map((start) => {
        const rows = this.raw(sensor, start, start + widthMs, false);
        const values = rows.map((row) => row.value);
        return {
          atMs: start,
          count: rows.length,
          min: Math.min(...values),
          max: Math.max(...values),
          mean: values.reduce((sum, value) => sum + value, 0) / rows.length,
          last: values.at(-1) ?? NaN,
        };
      });
  }

  latest(sensor: string): Row | undefined {
    return this.raw(sensor, 0, Infinity, true).at(-1);
  }

  count(sensor: string): number {
    return this.#rows.get(sensor)?.size ?? 0;
  }

  sensors(): string[] {
    return [...this.#rows.keys()];
  }
}
