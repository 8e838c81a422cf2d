/**
 * The interface through which `ingest` writes. `server/store` implements it; nothing here knows SQL.
 *
 * Contract: `commit` is synchronous and returns only when the whole batch is durable
 * (`synchronous=FULL`). It throws when nothing of the batch could be stored (disk full, locked); the
 * caller then withholds its acknowledgements. It never throws for one bad item.
 */
import type { Quantity, StoredUnit } from '../units.ts';
import type { ChannelKey } from './by-channel.ts';

/**
 * Why a reading is kept but left out of rules and axes. `uncalibrated`: raw counts of a scale that has no calibration
 * yet, so that they are no weight.
 */
export type SuspectReason = 'sentinel' | 'range' | 'rate' | 'spike' | 'stuck' | 'clock' | 'uncalibrated';

/** One decoded reading, in its stored unit, not yet tied to a channel id. */
export interface IncomingReading {
  /** The device's own name, as in its topic. */
  readonly sensor: string;
  readonly quantity: Quantity;
  /** Which of several probes of the same quantity on one sensor; '' for the only one. */
  readonly probe: string;
  readonly unit: StoredUnit;
  readonly value: number;
  /** Instant at which the value was true, ms since 1970 UTC. */
  readonly observedAtMs: number;
  /** Instant at which it reached us. */
  readonly receivedAtMs: number;
  readonly suspect?: SuspectReason;
}

/** A message that nobody understood, kept (bounded) with the reason and offered for mapping. */
export interface QuarantinedMessage {
  readonly topic: string;
  /** At most the first 4 KiB. */
  readonly payload: Uint8Array;
  readonly payloadBytes: number;
  readonly reason: string;
  readonly receivedAtMs: number;
  /** The broker replayed it: without a time of its own it is no reading. */
  readonly retained?: boolean;
}

/** A retained message without a time of its own: the last known value, not a reading. */
export interface LastKnown {
  readonly sensor: string;
  readonly quantity: Quantity;
  readonly probe: string;
  readonly unit: StoredUnit;
  readonly value: number;
  readonly receivedAtMs: number;
}

/** What a sensor said of itself, by which its later messages are read. What it means is ingest's. */
export interface Announcement {
  readonly kind: 'property' | 'announced' | 'name';
  readonly key: string;
  /** JSON; null: withdrawn. */
  readonly value: string | null;
}

export interface IngestBatch {
  readonly readings: readonly IncomingReading[];
  readonly quarantined: readonly QuarantinedMessage[];
  readonly lastKnown: readonly LastKnown[];
  readonly announcements?: readonly Announcement[];
}

export interface CommitResult {
  /** Newly stored readings, in the batch's order. */
  readonly stored: readonly StoredReading[];
  /** Same channel, time and value as one already stored. */
  readonly duplicates: number;
  /** Same channel and time, another value: the first stays, the other is recorded as a conflict. */
  readonly conflicts: number;
}

export interface StoredReading {
  readonly channelId: number;
  readonly observedAtMs: number;
  readonly value: number;
  readonly suspect: boolean;
  /** It is suspect for want of a calibration: nothing is wrong with the sensor. */
  readonly uncalibrated?: true;
  /** It is suspect for a time that can't be. */
  readonly wrongClock?: true;
}

/** What the keeper's calibrations make of what a channel sends. */
export interface CalibratedChannel {
  readonly channel: ChannelKey;
  lineAt(atMs: number): CalibratedLine;
}

export interface CalibratedLine {
  /** The value meant by a raw one, in the channel's unit. */
  apply(raw: number): number;
  /** It says how much one more of the raw number is: without that, counts are no weight. */
  readonly scaled: boolean;
}

export interface IngestPort {
  commit(batch: IngestBatch): CommitResult;
}
