/** The ingest port: one batch, one transaction, durable when `commit` returns. */
import type { Context } from './context.ts';
import type {
  CommitResult,
  IncomingReading,
  IngestBatch,
  IngestPort,
  LastKnown,
  StoredReading,
} from './port.ts';
import type { Quarantine } from './quarantine.ts';
import { dayOf, daysPerChannel, fromMicro, suspectCode, toMicro } from './readings/day-readings.ts';
import type { HotReading } from './readings/hot-days.ts';
import type { ReadingLayers } from './readings/layers.ts';

/** Received instants are kept where they are further than this from the instant that the reading tells. */
export const materialLagMs = 60_000;
/** A day of one reading a second still has an exact sum of millionths; no hive weighs a hundred tonnes. */
const largestValue = 100_000;

type KeyParts = Pick<IncomingReading, 'sensor' | 'quantity' | 'probe' | 'unit'>;
const keyOf = (reading: KeyParts): string =>
  JSON.stringify([reading.sensor, reading.quantity, reading.probe, reading.unit]);

export interface IngestCounters {
  readonly received: number;
  readonly stored: number;
  readonly duplicates: number;
  readonly conflicts: number;
  readonly quarantined: number;
}

export interface Ingest extends IngestPort {
  /** Since the start of this process. */
  counters(): IngestCounters;
}

interface Tally {
  readonly stored: StoredReading[];
  readonly hot: HotReading[];
  readonly newChannels: Map<string, number>;
  duplicates: number;
  conflicts: number;
  quarantined: number;
}

export function ingest(context: Context, layers: ReadingLayers, quarantine: Quarantine): Ingest {
  const { db } = context;
  const channelIds = new Map<string, number>();
  const findChannel = db
    .prepare<[string, string, string, string], number>(
      'SELECT id FROM channel WHERE sensor = ? AND quantity = ? AND probe = ? AND unit = ?',
    )
    .pluck();
  const addChannel = db.prepare<[string, string, string, string, number]>(
    'INSERT INTO channel (sensor, quantity, probe, unit, created_at) VALUES (?, ?, ?, ?, ?)',
  );
  const addReading = db.prepare<[number, number, number, number, number | null]>(
    'INSERT INTO reading_hot (at_ms, channel_id, micro, flag, received_s) VALUES (?, ?, ?, ?, ?) ON CONFLICT DO NOTHING',
  );
  const hotMicro = db
    .prepare<[number, number], number>('SELECT micro FROM reading_hot WHERE at_ms = ? AND channel_id = ?')
    .pluck();
  const addConflict = db.prepare<[number, number, number, number]>(
    `INSERT INTO reading_conflict (channel_id, at_ms, micro, received_at, times) VALUES (?, ?, ?, ?, 1)
     ON CONFLICT DO UPDATE SET times = times + 1`,
  );
  const setLastKnown = db.prepare<[number, number, number, number]>(
    'UPDATE channel SET last_known_micro = ?, last_known_at = ? WHERE id = ? AND last_known_micro IS NOT ?',
  );
  const totals = { received: 0, stored: 0, duplicates: 0, conflicts: 0, quarantined: 0 };

  function channelOf(parts: KeyParts, receivedAtMs: number, tally: Tally): number {
    const key = keyOf(parts);
    const known = channelIds.get(key) ?? tally.newChannels.get(key);
    if (known !== undefined) return known;
    const identity = [parts.sensor, parts.quantity, parts.probe, parts.unit] as const;
    const id =
      findChannel.get(...identity) ?? Number(addChannel.run(...identity, receivedAtMs).lastInsertRowid);
    tally.newChannels.set(key, id);
    return id;
  }

  function putAside(reading: IncomingReading, reason: string, tally: Tally): void {
    tally.quarantined += 1;
    quarantine.add({
      topic: `${reading.sensor}/${reading.quantity}${reading.probe === '' ? '' : `/${reading.probe}`}`,
      payload: Buffer.from(`${String(reading.value)} at ${String(reading.observedAtMs)}`),
      payloadBytes: 0,
      reason,
      receivedAtMs: reading.receivedAtMs,
    });
  }

  function storeReading(reading: IncomingReading, tally: Tally): void {
    const impossible = whyImpossible(reading) ?? layers.whyTooOld(reading.observedAtMs);
    if (impossible !== undefined) {
      putAside(reading, impossible, tally);
      return;
    }
    const channelId = channelOf(reading, reading.receivedAtMs, tally);
    const atMs = reading.observedAtMs;
    const micro = toMicro(reading.value);
    const flag = suspectCode(reading.suspect);
    const receivedS = materialReceipt(reading);
    const already =
      layers.sealedMicro(channelId, atMs) ?? insertOrFind(channelId, atMs, micro, flag, receivedS);
    if (already === undefined) {
      tally.stored.push({ channelId, observedAtMs: atMs, value: fromMicro(micro), suspect: flag !== 0 });
      tally.hot.push({ channelId, atMs, micro, flag, receivedS });
    } else if (already === micro) {
      tally.duplicates += 1;
    } else {
      tally.conflicts += 1;
      addConflict.run(channelId, atMs, micro, reading.receivedAtMs);
    }
  }

  /** Undefined when it was stored, otherwise the value that is there. */
  function insertOrFind(
    channelId: number,
    atMs: number,
    micro: number,
    flag: number,
    receivedS: number,
  ): number | undefined {
    const { changes } = addReading.run(atMs, channelId, micro, flag, receivedS === 0 ? null : receivedS);
    return changes === 1 ? undefined : hotMicro.get(atMs, channelId);
  }

  function storeLastKnown(known: LastKnown, tally: Tally): void {
    if (!Number.isFinite(known.value) || Math.abs(known.value) > largestValue) return;
    const micro = toMicro(known.value);
    setLastKnown.run(micro, known.receivedAtMs, channelOf(known, known.receivedAtMs, tally), micro);
  }

  function store(batch: IngestBatch): Tally {
    const tally: Tally = {
      stored: [],
      hot: [],
      newChannels: new Map(),
      duplicates: 0,
      conflicts: 0,
      quarantined: batch.quarantined.length,
    };
    for (const reading of batch.readings) storeReading(reading, tally);
    for (const known of batch.lastKnown) storeLastKnown(known, tally);
    for (const message of batch.quarantined) quarantine.add(message);
    return tally;
  }

  return {
    commit(batch): CommitResult {
      layers.refresh();
      const tally = context.write(() => store(batch));
      // Memory follows only what is durable.
      for (const [key, id] of tally.newChannels) channelIds.set(key, id);
      for (const reading of tally.hot) layers.follow(reading);
      totals.received += batch.readings.length + batch.lastKnown.length + batch.quarantined.length;
      totals.stored += tally.stored.length;
      totals.duplicates += tally.duplicates;
      totals.conflicts += tally.conflicts;
      totals.quarantined += tally.quarantined;
      return { stored: tally.stored, duplicates: tally.duplicates, conflicts: tally.conflicts };
    },
    counters: () => ({ ...totals }),
  };
}

function whyImpossible({ value, observedAtMs, receivedAtMs }: IncomingReading): string | undefined {
  if (!Number.isFinite(value)) return 'the value is not a finite number';
  if (Math.abs(value) > largestValue) return 'the value is beyond anything a hive sensor can mean (100,000)';
  for (const at of [observedAtMs, receivedAtMs]) {
    if (!Number.isInteger(at) || at < 0 || dayOf(at) >= daysPerChannel) {
      return 'its time is not a whole millisecond between 1970 and 2149';
    }
  }
  return undefined;
}

function materialReceipt({ observedAtMs, receivedAtMs }: IncomingReading): number {
  return Math.abs(receivedAtMs - observedAtMs) > materialLagMs ? Math.round(receivedAtMs / 1000) : 0;
}
