/** Readings for tests, made of as few words as possible. */
import type { CommitResult, IncomingReading } from '../../../server/store/port.ts';
import type { Store } from '../../../server/store/store.ts';

export const minute = 60_000;
export const hour = 3_600_000;
export const day = 86_400_000;
/** 2026-05-01, a UTC midnight. */
export const may1 = Date.UTC(2026, 4, 1);

/** A temperature of sensor `n1` unless told otherwise, received as it was observed. */
export function reading(
  observedAtMs: number,
  value: number,
  more: Partial<IncomingReading> = {},
): IncomingReading {
  return {
    sensor: 'n1',
    quantity: 'temperature',
    probe: '',
    unit: 'Cel',
    value,
    observedAtMs,
    receivedAtMs: observedAtMs,
    ...more,
  };
}

export function commit(store: Store, ...readings: readonly IncomingReading[]): CommitResult {
  return store.ingest.commit({ readings, quarantined: [], lastKnown: [] });
}

export const columns = (...parts: readonly ArrayLike<number>[]): number[][] =>
  parts.map((part) => Array.from(part));
