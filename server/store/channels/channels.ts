/** Channels: one stream of one quantity from one sensor. They appear by themselves when the first reading comes. */
import type { Context } from '../context.ts';
import type { CalibratedChannel, SuspectReason } from '../port.ts';
import type { ChannelKey } from '../by-channel.ts';
import { noFreshChannels, type ChannelIds } from '../channel-ids.ts';
import { StoreConflict } from '../errors.ts';
import {
  calibrations,
  Line,
  lineAt,
  linesOf,
  type Calibration,
  type Calibrations,
} from '../readings/calibration.ts';
import { fromMicro, suspectReason } from '../readings/day-readings.ts';
import type { ReadingLayers } from '../readings/layers.ts';

export interface LatestReading {
  readonly atMs: number;
  /** Calibrated, in the channel's unit. */
  readonly value: number;
  /** As it came. */
  readonly rawValue: number;
  readonly suspect: SuspectReason | null;
}

export interface Channel extends ChannelKey {
  readonly id: number;
  readonly createdAtMs: number;
  readonly firstAtMs: number | null;
  readonly latest: LatestReading | null;
  /** A retained value without a time of its own: known, not a reading. */
  readonly lastKnown: { readonly value: number; readonly receivedAtMs: number } | null;
  /** Ever stored, also those whose raw form has been dropped since. */
  readonly readings: number;
}

interface ChannelRow extends ChannelKey {
  readonly id: number;
  readonly created_at: number;
  readonly last_known_micro: number | null;
  readonly last_known_at: number | null;
}

export interface Channels extends Calibrations {
  /** Every channel with its newest reading, by id. */
  list(): Channel[];
  get(id: number): Channel | undefined;
  find(key: ChannelKey): Channel | undefined;
  /** The one of this key, made where there is none. Throws `StoreConflict` where there are too many. */
  ensure(key: ChannelKey): number;
  /** Those with calibrations, as they are now. */
  calibrated(): CalibratedChannel[];
}

export function channels(context: Context, layers: ReadingLayers, channelIds: ChannelIds): Channels {
  const { db } = context;
  const all = db.prepare<[], ChannelRow>('SELECT * FROM channel ORDER BY id');
  const one = db.prepare<[number], ChannelRow>('SELECT * FROM channel WHERE id = ?');
  const byKey = db.prepare<[string, string, string, string], ChannelRow>(
    'SELECT * FROM channel WHERE sensor = ? AND quantity = ? AND probe = ? AND unit = ?',
  );
  const facts = calibrations(context);
  let cached: { readonly version: string; readonly rows: readonly ChannelRow[] } | undefined;

  function rows(): readonly ChannelRow[] {
    const version = `${String(channelIds.version)} ${String(context.foreignVersion())}`;
    if (cached?.version !== version) cached = { version, rows: all.all() };
    return cached.rows;
  }

  type Facts = ReadonlyMap<number, readonly Calibration[]>;
  const toChannel = (row: ChannelRow, of: Facts): Channel => {
    const newest = layers.latest.of(row.id);
    const line = newest ? lineAt(of.get(row.id) ?? [], newest.atMs) : undefined;
    return {
      id: row.id,
      sensor: row.sensor,
      quantity: row.quantity,
      probe: row.probe,
      unit: row.unit,
      createdAtMs: row.created_at,
      firstAtMs: newest?.firstMs ?? null,
      readings: newest?.readings ?? 0,
      latest:
        newest && line
          ? {
              atMs: newest.atMs,
              value: line.apply(fromMicro(newest.micro)),
              rawValue: fromMicro(newest.micro),
              suspect: suspectReason(newest.flag) ?? null,
            }
          : null,
      lastKnown:
        row.last_known_micro === null || row.last_known_at === null
          ? null
          : { value: fromMicro(row.last_known_micro), receivedAtMs: row.last_known_at },
    };
  };
  const optional = (row: ChannelRow | undefined): Channel | undefined => {
    layers.refresh();
    return row && toChannel(row, facts.allCalibrations());
  };

  return {
    ...facts,
    list() {
      layers.refresh();
      const of = facts.allCalibrations();
      return rows().map((row) => toChannel(row, of));
    },
    get: (id) => optional(one.get(id)),
    calibrated: () =>
      [...facts.allCalibrations()].flatMap(([id, its]) => {
        const channel = one.get(id);
        return channel ? [{ channel, lineAt: lineOf(its) }] : [];
      }),
    ensure(key) {
      const fresh = noFreshChannels();
      const id = context.write(() => channelIds.of(key, context.nowMs(), fresh, false));
      if (typeof id === 'string') throw new StoreConflict(`This channel can't be made: ${id}.`);
      channelIds.keep(fresh);
      return id;
    },
    find: (key) => optional(byKey.get(key.sensor, key.quantity, key.probe, key.unit)),
  };
}

/** The same line for the same stretch of time, so that who follows a channel sees where another one begins. */
function lineOf(facts: readonly Calibration[]): CalibratedChannel['lineAt'] {
  const newestFirst = linesOf(facts).toReversed();
  const oldest = newestFirst.at(-1)?.line ?? new Line();
  return (atMs) => newestFirst.find(({ fromMs }) => fromMs <= atMs)?.line ?? oldest;
}
