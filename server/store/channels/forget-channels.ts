/** Removes channels with all that they sent: what was made up, mistyped or tried out. */
import type { ChannelIds } from '../channel-ids.ts';
import type { Calibrations } from '../readings/calibration.ts';
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';
import type { Assignments } from '../places/assignments.ts';
import { dayKey, daysPerChannel } from '../readings/day-readings.ts';
import type { ReadingLayers } from '../readings/layers.ts';

/**
 * How many there were and are gone now, with their readings, roll-ups and calibrations; unknown ids are passed over.
 * Where one of them stands at a place or stood there, that place's history rests on its readings: without
 * `evenAssigned` it throws `StoreConflict` and removes none; with it the history goes, too.
 */
export function channelForgetter(
  context: Context,
  layers: ReadingLayers,
  channelIds: ChannelIds,
  calibrations: Calibrations,
  assignments: Assignments,
): (ids: readonly number[], evenAssigned?: boolean) => number {
  const { db } = context;
  const nameOf = db.prepare<[number], string>('SELECT sensor FROM channel WHERE id = ?').pluck();
  const dropRollups = db.prepare<[number, number]>('DELETE FROM rollup_day WHERE id >= ? AND id < ?');
  const removeFrom = ['latest WHERE channel_id', 'reading_conflict WHERE channel_id', 'channel WHERE id'].map(
    (of) => db.prepare<[number]>(`DELETE FROM ${of} = ?`),
  );

  function refuseAssigned(id: number, sensor: string): void {
    if (assignments.assignmentsOfChannel(id).length === 0) return;
    throw new StoreConflict(
      `A channel of ${sensor} stands at a place or stood there: its readings are that place's history, and stay. Say so to remove them too.`,
    );
  }

  function remove(id: number): void {
    layers.sealed.remove(id, 0, daysPerChannel - 1);
    dropRollups.run(dayKey(id, 0), dayKey(id + 1, 0));
    for (const statement of removeFrom) statement.run(id);
  }

  return (ids, evenAssigned = false) => {
    const gone = context.write(() => {
      layers.refresh();
      const there = [...new Set(ids)].filter((id) => {
        const sensor = nameOf.get(id);
        if (sensor !== undefined && !evenAssigned) refuseAssigned(id, sensor);
        return sensor !== undefined;
      });
      channelIds.beforeRemoval();
      const facts = there.flatMap((id) => calibrations.calibrationsOf(id));
      for (const { id } of facts) calibrations.removeCalibration(id);
      for (const { id } of there.flatMap((one) => assignments.assignmentsOfChannel(one)))
        assignments.removeAssignment(id);
      layers.hot.removeChannels(new Set(there));
      for (const id of there) remove(id);
      return there;
    });
    for (const id of gone) layers.forget(id);
    channelIds.forget();
    return gone.length;
  };
}
