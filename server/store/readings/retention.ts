/** Dropping raw readings that are older than wanted. Their roll-ups stay, except for what nobody ever assigned. */
import type { ChannelIds } from '../channel-ids.ts';
import type { Context } from '../context.ts';
import { dayKey, dayMs, dayOf } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';
import type { Sealer } from './seal.ts';
import { keptFromMark } from './sealed-days.ts';

export interface ExpireOptions {
  /** Raw readings before this instant's UTC day are dropped; their roll-ups stay. */
  readonly rawBeforeMs: number;
  /**
   * Of channels that were known by this instant and never assigned, everything before its UTC day; an empty one goes
   * itself. A past season that was just brought in has the same time to be assigned.
   */
  readonly unassignedBeforeMs: number;
  /**
   * Of channels that were known by this instant and never assigned nor calibrated: those that said fewer than
   * `fewReadings` things, the last of them before it, go with what they said. Names that were made up or tried out.
   */
  readonly strayBeforeMs?: number;
}

export interface Expired {
  readonly channelDays: number;
  readonly channels: number;
}

/** A season that was brought in has more. */
const fewReadings = 100;

/** Later readings of a dropped day go to quarantine: nobody could tell a duplicate any more. Throws `StoreUnavailable`. */
export function expire(
  context: Context,
  layers: ReadingLayers,
  sealer: Sealer,
  channelIds: ChannelIds,
  options: ExpireOptions,
  forget: (ids: readonly number[]) => number,
): Expired {
  const oldest = Math.max(options.rawBeforeMs, options.unassignedBeforeMs);
  // A hot reading left behind would be taken for the whole of its day once that day's raw readings are gone.
  while (sealer.seal({ endedBeforeMs: oldest }).more);
  const { db } = context;
  const ids = db.prepare<[], number>('SELECT id FROM channel').pluck();
  const unassigned = db
    .prepare<[number], number>(
      'SELECT id FROM channel WHERE created_at < ? AND id NOT IN (SELECT channel_id FROM assignment)',
    )
    .pluck();
  const dropRollups = db.prepare<[number, number]>('DELETE FROM rollup_day WHERE id >= ? AND id < ?');
  const mark = db.prepare<[string, number]>('INSERT OR REPLACE INTO mark (name, at_ms) VALUES (?, ?)');

  const expired = context.write(() => {
    let channelDays = 0;
    const rawDay = dayOf(options.rawBeforeMs);
    if (rawDay > layers.sealed.keptFromDay) {
      mark.run(keptFromMark, rawDay * dayMs);
      for (const id of ids.all()) channelDays += layers.sealed.remove(id, 0, rawDay - 1);
    }
    const unassignedDay = dayOf(options.unassignedBeforeMs);
    for (const id of unassigned.all(options.unassignedBeforeMs)) {
      channelDays += layers.sealed.remove(id, 0, unassignedDay - 1);
      dropRollups.run(dayKey(id, 0), dayKey(id, unassignedDay));
    }
    channelIds.beforeRemoval();
    return { channelDays, channels: removeForgotten(context, layers, options.unassignedBeforeMs) };
  });
  channelIds.forget();
  layers.reload();
  const { strayBeforeMs } = options;
  const strays = strayBeforeMs === undefined ? 0 : forget(strayChannels(context, layers, strayBeforeMs));
  return { ...expired, channels: expired.channels + strays };
}

/** Channels that were never assigned nor calibrated, and were known before the instant. */
function neverUsed({ db }: Context, beforeMs: number): number[] {
  return db
    .prepare<[number, number], number>(
      `SELECT id FROM channel WHERE created_at < ? AND coalesce(last_known_at, 0) < ?
         AND id NOT IN (SELECT channel_id FROM assignment) AND id NOT IN (SELECT channel_id FROM calibration)`,
    )
    .pluck()
    .all(beforeMs, beforeMs);
}

function strayChannels(context: Context, layers: ReadingLayers, beforeMs: number): number[] {
  return neverUsed(context, beforeMs).filter((id) => {
    const latest = layers.latest.of(id);
    return latest === undefined || (latest.readings < fewReadings && latest.atMs < beforeMs);
  });
}

/** Those of them that were last heard before the instant. */
function removeForgotten(context: Context, layers: ReadingLayers, beforeMs: number): number {
  const { db } = context;
  const remove = ['latest WHERE channel_id', 'reading_conflict WHERE channel_id', 'channel WHERE id'].map(
    (of) => db.prepare<[number]>(`DELETE FROM ${of} = ?`),
  );
  const dayStart = dayOf(beforeMs) * dayMs;
  const forgotten = neverUsed(context, beforeMs).filter((id) => (layers.latest.of(id)?.atMs ?? 0) < dayStart);
  for (const id of forgotten) for (const statement of remove) statement.run(id);
  return forgotten.length;
}
