/** Numbered readings whose channel, time and value follow from the number alone: what is stored can be told exactly. */
import type { IncomingReading } from '../../../server/store/port.ts';
import type { Store } from '../../../server/store/store.ts';

export const numberedFromMs = Date.UTC(2026, 4, 1);
const minutes = 6 * 1440;
const channels = 5;

/** Over six days, out of order, no two at one time. 7919 and the minutes of six days have no common divisor. */
function numbered(k: number): IncomingReading {
  const atMs = numberedFromMs + ((k * 7919) % minutes) * 60_000 + Math.floor(k / minutes) * 1000;
  return {
    sensor: `n${String(k % channels)}`,
    quantity: 'temperature',
    probe: '',
    unit: 'Cel',
    value: (k % 9000) / 100,
    observedAtMs: atMs,
    receivedAtMs: atMs,
  };
}

export const numberedBatch = (from: number, length: number): IncomingReading[] =>
  Array.from({ length }, (_, i) => numbered(from + i));

export interface Found {
  /** 0 … count − 1 are stored, each once with its value, and nothing else. */
  readonly count: number;
  readonly wrong: readonly string[];
}

/** Compares all that a store has with numbers from 0 on, and its roll-ups with its own raw readings. */
export function compareNumbered(store: Store): Found {
  const wrong: string[] = [];
  const stored = new Map<string, number>();
  let total = 0;
  for (const channel of store.channels.list()) {
    const span = { channelId: channel.id, fromMs: 0, toMs: Date.UTC(2100, 0, 1) };
    const raw = store.readings.query({ ...span, resolution: 'raw', includeSuspect: true });
    raw.atMs.forEach((at, i) => stored.set(`${channel.sensor} ${String(at)}`, raw.value[i] ?? NaN));
    total += raw.atMs.length;
    if (channel.readings !== raw.atMs.length)
      wrong.push(`${channel.sensor} counts ${String(channel.readings)}`);
    const hours = store.readings.query({ ...span, resolution: 'hour' });
    const days = store.readings.query({ ...span, resolution: 'day' });
    for (const counts of [hours.count, days.count]) {
      const sum = counts.reduce((all, one) => all + one, 0);
      if (sum !== raw.atMs.length) wrong.push(`${channel.sensor} rolls up ${String(sum)}`);
    }
  }
  if (total !== stored.size) wrong.push('a reading shows twice');
  for (let k = 0; k < total; k += 1) {
    const { sensor, observedAtMs, value } = numbered(k);
    const got = stored.get(`${sensor} ${String(observedAtMs)}`);
    if (got !== value) wrong.push(`number ${String(k)} reads ${String(got)}`);
  }
  return { count: total, wrong: wrong.slice(0, 5) };
}
