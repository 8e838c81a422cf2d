/** Dropping raw readings that are older than wanted; roll-ups outlive them. */
import type { Context } from '../context.ts';
import { dayKey, dayMs, dayOf } from './day-readings.ts';
import type { ReadingLayers } from './layers.ts';
import { keptFromMark } from './sealed-days.ts';

export interface Expired {
  readonly channelDays: number;
}

/**
 * Drops the sealed raw readings of all UTC days before that of `beforeMs`. Hot readings of those days are sealed
 * first by the caller; later readings of such days go to quarantine, as nobody could tell a duplicate any more.
 */
export function expireRaw(context: Context, layers: ReadingLayers, beforeMs: number): Expired {
  const beforeDay = dayOf(beforeMs);
  if (beforeDay <= layers.sealed.keptFromDay) return { channelDays: 0 };
  const { db } = context;
  const channelIds = db.prepare<[], number>('SELECT id FROM channel').pluck();
  const drop = db.prepare<[number, number]>('DELETE FROM reading_day WHERE id >= ? AND id < ?');
  const mark = db.prepare<[string, number]>('INSERT OR REPLACE INTO mark (name, at_ms) VALUES (?, ?)');
  const channelDays = context.write(() => {
    mark.run(keptFromMark, beforeDay * dayMs);
    return channelIds
      .all()
      .reduce((sum, id) => sum + drop.run(dayKey(id, 0), dayKey(id, beforeDay)).changes, 0);
  });
  layers.sealed.keptFromDay = beforeDay;
  layers.sealed.forget();
  return { channelDays };
}
