/** Newly stored readings, passed to open pages with the place that they were taken at. */
import type { EventsHub } from './events-hub.ts';
import { doubtOf, iso, rawCountsOf } from '../farm/wire.ts';
import type { CommitResult } from '../store/port.ts';
import type { Store } from '../store/store.ts';
import type { Where } from '../farm/sensor-positions.ts';

export function liveReadings(store: Store, events: EventsHub, where: (nowMs: number) => Where) {
  const known = new Set<number>();
  return ({ stored }: CommitResult, nowMs: number): void => {
    if (events.clients === 0 || stored.length === 0) return;
    const { ofChannel } = where(nowMs);
    // A batch may hold a day of one channel: pages only want its newest.
    const newest = new Map(stored.map((reading) => [reading.channelId, reading]));
    for (const channelId of newest.keys()) {
      const channel = store.channels.get(channelId);
      if (!channel?.latest) continue;
      if (!known.has(channelId)) {
        known.add(channelId);
        events.publish({ type: 'channels' });
      }
      const at = ofChannel.get(channelId);
      const counts = rawCountsOf(channel.latest);
      events.publish({
        type: 'reading',
        channelId,
        value: channel.latest.value,
        unit: channel.unit,
        time: iso(channel.latest.atMs),
        ...doubtOf(channel.latest),
        ...(counts === null ? {} : { rawCounts: counts }),
        ...(at?.hive ? { hiveId: at.hive.id } : {}),
        ...(at ? { siteId: at.site.id, place: at.assignment.position } : {}),
      });
    }
  };
}
