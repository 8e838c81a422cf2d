/** Readings of a channel, oldest first, at the resolution asked for or the finest one that fits the limit. */
import type { Store } from '../../store/store.ts';
import { suspectReason } from '../../store/readings/day-readings.ts';
import type { ParsedQueryOf, ResponseOf } from '../../contract/index.ts';
import type { AppDeps } from '../deps.ts';
import { implement } from '../operation.ts';
import { UserError, orNotFound } from '../../user-error.ts';
import { iso, msOf } from '../../farm/wire.ts';
import { dayMs } from '../../durations.ts';

type Asked = ParsedQueryOf<'getReadings'>;
type Resolution = ResponseOf<'getReadings'>['resolution'];
type Item = ResponseOf<'getReadings'>['items'][number];

/** Raw readings are fetched this much at a time, so that a small limit never reads years. */
const pieceMs = 14 * dayMs;

export interface ReadingSpan {
  readonly channelId: number;
  readonly fromMs: number;
  /** Not in it. */
  readonly toMs: number;
  readonly calibrated: boolean;
  readonly includeSuspect: boolean;
}

/** The finest resolution at which the span has no more than `limit` items; days where none has. */
function chooseResolution(store: Store, span: ReadingSpan, limit: number): Resolution {
  const days = store.readings.query({
    ...span,
    fromMs: Math.floor(span.fromMs / dayMs) * dayMs,
    resolution: 'day',
  });
  const count = days.count.reduce((sum, one) => sum + one, 0);
  const oldestRaw = store.channels.get(span.channelId)?.firstAtMs ?? 0;
  // Roll-ups outlive raw readings: where those are gone, hours tell what they can't.
  const rawReachesBack = days.atMs.length === 0 || (days.atMs[0] ?? 0) + dayMs > oldestRaw;
  if (count <= limit && rawReachesBack) return 'raw';
  return Math.min(count, days.atMs.length * 24) <= limit ? 'hour' : 'day';
}

/** Raw readings in pieces, so that a reader can stop early and memory stays small. */
export function* rawPieces(store: Store, span: ReadingSpan) {
  const channel = store.channels.get(span.channelId);
  if (!channel?.latest || channel.firstAtMs === null) return;
  const lastMs = Math.min(span.toMs, channel.latest.atMs + 1);
  for (let fromMs = Math.max(span.fromMs, channel.firstAtMs); fromMs < lastMs; fromMs += pieceMs) {
    yield store.readings.query({
      ...span,
      fromMs,
      toMs: Math.min(fromMs + pieceMs, lastMs),
      resolution: 'raw',
    });
  }
}

function rawItems(store: Store, span: ReadingSpan, limit: number): { items: Item[]; more: boolean } {
  const items: Item[] = [];
  for (const { atMs, value, suspect } of rawPieces(store, span)) {
    for (let i = 0; i < atMs.length; i += 1) {
      if (items.length === limit) return { items, more: true };
      const reason = suspectReason(suspect[i] ?? 0);
      items.push({
        time: iso(atMs[i] ?? 0),
        value: value[i] ?? 0,
        ...(reason === undefined ? {} : { suspect: reason }),
      });
    }
  }
  return { items, more: false };
}

function bucketItems(
  store: Store,
  span: ReadingSpan,
  resolution: 'hour' | 'day',
  limit: number,
): { items: Item[]; more: boolean } {
  const found = store.readings.query({ ...span, resolution, limit });
  const items = Array.from(found.atMs, (atMs, i) => ({
    time: iso(atMs),
    value: found.mean[i] ?? 0,
    min: found.min[i] ?? 0,
    max: found.max[i] ?? 0,
    count: found.count[i] ?? 0,
  }));
  // A bucket with nothing but suspects has no mean.
  return { items: items.filter((item) => item.count > 0 && Number.isFinite(item.value)), more: found.more };
}

export function spanOf(
  channelId: number,
  asked: Pick<Asked, 'from' | 'to' | 'calibrated' | 'suspect'>,
): ReadingSpan {
  const fromMs = asked.from === undefined ? 0 : msOf(asked.from);
  // The year 3000: later than any reading, and still a date.
  const toMs = asked.to === undefined ? Date.UTC(3000, 0) : msOf(asked.to);
  if (toMs < fromMs)
    throw new UserError('invalid-input', 'The span ends before it begins: "to" is earlier than "from".');
  return { channelId, fromMs, toMs, calibrated: asked.calibrated, includeSuspect: asked.suspect };
}

export function readingRoutes({ store }: AppDeps) {
  return {
    ...implement('getReadings', ({ params, query }) => {
      const channel = orNotFound(store.channels.get(params.id), 'channel', params.id);
      const span = spanOf(channel.id, query);
      const resolution =
        query.resolution === 'auto' ? chooseResolution(store, span, query.limit) : query.resolution;
      const answer =
        resolution === 'raw'
          ? rawItems(store, span, query.limit)
          : bucketItems(store, span, resolution, query.limit);
      return { ...answer, unit: channel.unit, resolution };
    }),
  };
}
