/** The ingest port: one batch, one transaction, durable when `commit` returns. */
import type { Announcements } from './announcements.ts';
import { noFreshChannels, type ChannelIds, type FreshChannels } from '../channel-ids.ts';
import type { Context } from '../context.ts';
import type {
  CommitResult,
  IncomingReading,
  IngestBatch,
  IngestPort,
  LastKnown,
  QuarantinedMessage,
  StoredReading,
} from '../port.ts';
import type { Quarantine } from './quarantine.ts';
import { dayOf, daysPerChannel, fromMicro, suspectCode, toMicro } from '../readings/day-readings.ts';
import type { HotReading } from '../readings/hot-codec.ts';
import type { ReadingLayers } from '../readings/layers.ts';

/** Received instants are kept where they are further than this from the instant that the reading tells. */
export const materialLagMs = 60_000;
/** A day of one reading a second still has an exact sum of millionths; no hive weighs a hundred tonnes. */
const largestValue = 100_000;

export interface IngestCounters {
  readonly received: number;
  readonly stored: number;
  readonly duplicates: number;
  readonly conflicts: number;
  readonly quarantined: number;
}

export interface Ingest extends IngestPort {
  /** For what sensors send: how many channels they may make before somebody assigns them is bounded. */
  readonly ofSensors: IngestPort;
  /** Since the start of this process. */
  counters(): IngestCounters;
}

/** What one batch came to; memory takes it over once it is durable. */
interface Tally {
  readonly stored: StoredReading[];
  readonly hot: HotReading[];
  readonly fresh: FreshReadings;
  readonly freshChannels: FreshChannels;
  readonly quarantined: QuarantinedMessage[];
  /** What would have needed a channel too many: the newest of each sensor and reason, for one message may bring thousands. */
  readonly beyond: Map<string, QuarantinedMessage>;
  readonly bounded: boolean;
  duplicates: number;
  conflicts: number;
}

/** What this very batch has brought so far: a message may come twice in one batch. */
class FreshReadings {
  readonly #newestMs = new Map<number, number>();
  /** Made when something is not its channel's newest: the usual batch is in order and needs no lookup. */
  #byChannel: Map<number, Map<number, number>> | undefined;

  add(reading: HotReading): void {
    const { channelId, atMs } = reading;
    if (atMs > (this.#newestMs.get(channelId) ?? -1)) this.#newestMs.set(channelId, atMs);
    if (this.#byChannel) enter(this.#byChannel, reading);
  }

  /** @param all what was added so far */
  microAt(channelId: number, atMs: number, all: readonly HotReading[]): number | undefined {
    if (atMs > (this.#newestMs.get(channelId) ?? -1)) return undefined;
    if (!this.#byChannel) {
      this.#byChannel = new Map();
      for (const reading of all) enter(this.#byChannel, reading);
    }
    return this.#byChannel.get(channelId)?.get(atMs);
  }
}

function enter(byChannel: Map<number, Map<number, number>>, { channelId, atMs, micro }: HotReading): void {
  const times = byChannel.get(channelId);
  if (times) times.set(atMs, micro);
  else byChannel.set(channelId, new Map([[atMs, micro]]));
}

export const ingest = (
  context: Context,
  layers: ReadingLayers,
  channelIds: ChannelIds,
  quarantine: Quarantine,
  announcements: Announcements,
): Ingest => new BatchWriter({ context, layers, channelIds, quarantine, announcements });

interface Parts {
  readonly context: Context;
  readonly layers: ReadingLayers;
  readonly channelIds: ChannelIds;
  readonly quarantine: Quarantine;
  readonly announcements: Announcements;
}

class BatchWriter implements Ingest {
  readonly commit = (batch: IngestBatch): CommitResult => this.#commit(batch, false);
  readonly ofSensors: IngestPort = { commit: (batch) => this.#commit(batch, true) };
  readonly #parts: Parts;
  readonly #statements: ReturnType<typeof statements>;
  readonly #totals = { received: 0, stored: 0, duplicates: 0, conflicts: 0, quarantined: 0 };

  constructor(parts: Parts) {
    this.#parts = parts;
    this.#statements = statements(parts.context.db);
  }

  counters(): IngestCounters {
    return { ...this.#totals };
  }

  #commit(batch: IngestBatch, bounded: boolean): CommitResult {
    const { context, channelIds, layers } = this.#parts;
    const totals = this.#totals;
    const tally = context.write(() => this.#store(batch, bounded));
    channelIds.keep(tally.freshChannels);
    for (const reading of tally.hot) layers.follow(reading);
    totals.received += batch.readings.length + batch.lastKnown.length + batch.quarantined.length;
    totals.stored += tally.stored.length;
    totals.duplicates += tally.duplicates;
    totals.conflicts += tally.conflicts;
    totals.quarantined += tally.quarantined.length;
    return { stored: tally.stored, duplicates: tally.duplicates, conflicts: tally.conflicts };
  }

  #store(batch: IngestBatch, bounded: boolean): Tally {
    const { layers, quarantine, announcements } = this.#parts;
    // Under the lock: nobody else can write between this read and the commit.
    layers.refresh();
    const tally: Tally = {
      stored: [],
      hot: [],
      fresh: new FreshReadings(),
      freshChannels: noFreshChannels(),
      quarantined: [...batch.quarantined],
      beyond: new Map(),
      bounded,
      duplicates: 0,
      conflicts: 0,
    };
    for (const reading of batch.readings) this.#storeReading(reading, tally);
    layers.hot.write(tally.hot);
    for (const known of batch.lastKnown) this.#storeLastKnown(known, tally);
    tally.quarantined.push(...tally.beyond.values());
    quarantine.add(tally.quarantined);
    if (batch.announcements) announcements.add(batch.announcements);
    return tally;
  }

  #storeReading(reading: IncomingReading, tally: Tally): void {
    const { layers } = this.#parts;
    const impossible = whyImpossible(reading) ?? layers.whyTooOld(reading.observedAtMs);
    if (impossible !== undefined) {
      tally.quarantined.push(asMessage(reading, impossible));
      return;
    }
    const channelId = this.#channelOf(reading, tally);
    if (channelId === undefined) return;
    const hot = toHot(channelId, reading);
    const already =
      layers.microAt(channelId, hot.atMs) ?? tally.fresh.microAt(channelId, hot.atMs, tally.hot);
    if (already === undefined) {
      tally.stored.push(toStored(hot, reading));
      tally.hot.push(hot);
      tally.fresh.add(hot);
    } else if (already === hot.micro) {
      tally.duplicates += 1;
    } else {
      tally.conflicts += 1;
      this.#statements.addConflict.run(channelId, hot.atMs, hot.micro, reading.receivedAtMs);
    }
  }

  #storeLastKnown(known: LastKnown, tally: Tally): void {
    if (whyImpossible({ ...known, observedAtMs: known.receivedAtMs }) !== undefined) return;
    const channelId = this.#channelOf(known, tally);
    if (channelId === undefined) return;
    const micro = toMicro(known.value);
    const { changes } = this.#statements.setLastKnown.run(micro, known.receivedAtMs, channelId, micro);
    if (changes > 0) this.#parts.channelIds.changed();
  }

  /** Undefined where it may not have one; then it is quarantined. */
  #channelOf(from: IncomingReading | LastKnown, tally: Tally): number | undefined {
    const { channelIds } = this.#parts;
    const found = channelIds.of(from, from.receivedAtMs, tally.freshChannels, tally.bounded);
    if (typeof found === 'number') return found;
    const reading = { observedAtMs: from.receivedAtMs, ...from };
    tally.beyond.set(`${found} ${from.sensor}`, { ...asMessage(reading, found), topic: from.sensor });
    return undefined;
  }
}

const statements = (db: Context['db']) => ({
  addConflict: db.prepare<[number, number, number, number]>(
    `INSERT INTO reading_conflict (channel_id, at_ms, micro, received_at, times) VALUES (?, ?, ?, ?, 1)
     ON CONFLICT DO UPDATE SET times = times + 1`,
  ),
  setLastKnown: db.prepare<[number, number, number, number]>(
    'UPDATE channel SET last_known_micro = ?, last_known_at = ? WHERE id = ? AND last_known_micro IS NOT ?',
  ),
});

const toStored = (
  { channelId, atMs, micro, flag }: HotReading,
  { suspect }: IncomingReading,
): StoredReading => ({
  channelId,
  observedAtMs: atMs,
  value: fromMicro(micro),
  suspect: flag !== 0,
  ...(suspect === 'uncalibrated' && { uncalibrated: true }),
  ...(suspect === 'clock' && { wrongClock: true }),
});

function toHot(channelId: number, reading: IncomingReading): HotReading {
  const { observedAtMs, receivedAtMs } = reading;
  const late = Math.abs(receivedAtMs - observedAtMs) > materialLagMs;
  return {
    channelId,
    atMs: observedAtMs,
    micro: toMicro(reading.value),
    flag: suspectCode(reading.suspect),
    receivedS: late ? Math.round(receivedAtMs / 1000) : 0,
  };
}

type Checked = Pick<IncomingReading, 'value' | 'observedAtMs' | 'receivedAtMs'>;

function whyImpossible({ value, observedAtMs, receivedAtMs }: Checked): string | undefined {
  if (!Number.isFinite(value)) return 'the value is not a finite number';
  if (Math.abs(value) > largestValue) {
    return 'the value is beyond anything that a hive sensor can mean (100,000)';
  }
  if (!isInstant(observedAtMs) || !isInstant(receivedAtMs)) {
    return 'its time is not a whole millisecond between 1970 and 2106';
  }
  return undefined;
}

const isInstant = (at: number): boolean => Number.isInteger(at) && at >= 0 && dayOf(at) < lastDay;

/** Seconds since 1970 in 32 bits end in February 2106; the day number would last longer. */
const lastDay = Math.min(daysPerChannel, Math.floor(2 ** 32 / 86_400));

/** A reading that can't be stored, as the Sensors page shows it. */
function asMessage(reading: IncomingReading, reason: string): QuarantinedMessage {
  const payload = Buffer.from(`${String(reading.value)} at ${String(reading.observedAtMs)}`);
  const parts = [reading.sensor, reading.quantity, reading.probe].filter((part) => part !== '');
  return {
    topic: parts.join('/'),
    payload,
    payloadBytes: payload.length,
    reason,
    receivedAtMs: reading.receivedAtMs,
  };
}
