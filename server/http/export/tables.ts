/** Readings, the field log and outcomes as rows of CSV. */
import * as z from 'zod';
import type { LogEntry } from '../../introduction/log/facts.ts';
import type { Channel } from '../../store/channels/channels.ts';
import { suspectReason } from '../../store/readings/day-readings.ts';
import type { Store } from '../../store/store.ts';
import { isoTime } from '../../contract/common.ts';
import type { ReadingSpan } from '../routes/readings.ts';
import { rawPieces, spanOf } from '../routes/readings.ts';
import type { OutcomeRow } from '../../views/views.ts';
import { iso } from '../../farm/wire.ts';
import type { Cell } from './csv.ts';
import { csvRows } from './csv.ts';

export const channelQuery = z.object({
  from: isoTime.optional(),
  to: isoTime.optional(),
  resolution: z.enum(['raw', 'hour', 'day']).default('raw'),
  suspect: z.stringbool().default(false).describe('Also readings flagged as suspect (raw only)'),
  calibrated: z.stringbool().default(true),
});
function* rawRows(store: Store, span: ReadingSpan, unit: string): Generator<string> {
  yield csvRows([['time', 'value', 'unit', 'suspect']]);
  for (const { atMs, value, suspect } of rawPieces(store, span)) {
    // Nothing in these rows can need quoting, and there may be millions.
    for (let i = 0; i < atMs.length; i += 1) {
      const reason = suspectReason(suspect[i] ?? 0) ?? '';
      yield `${iso(atMs[i] ?? 0)},${String(value[i] ?? 0)},${unit},${reason}\r\n`;
    }
  }
}

function* bucketRows(store: Store, span: ReadingSpan, size: 'hour' | 'day', unit: string): Generator<string> {
  const { atMs, mean, min, max, count } = store.readings.query({ ...span, resolution: size });
  yield csvRows([['time', 'mean', 'min', 'max', 'count', 'unit']]);
  for (let i = 0; i < atMs.length; i += 1) {
    yield csvRows([[iso(atMs[i] ?? 0), mean[i], min[i], max[i], count[i], unit]]);
  }
}

/** Rows of one channel at the asked resolution. Throws `UserError` for a span that ends before it begins. */
export function channelRows(
  store: Store,
  channel: Channel,
  query: z.output<typeof channelQuery>,
): Generator<string> {
  const span = spanOf(channel.id, query);
  return query.resolution === 'raw'
    ? rawRows(store, span, channel.unit)
    : bucketRows(store, span, query.resolution, channel.unit);
}

const logColumns = [
  'id',
  'nuc',
  'introduction',
  'type',
  'kind',
  'happened_at',
  'written_at',
  'by',
  'note',
  'corrects',
  'details',
  'on_behalf_of',
];

function logRow(entry: LogEntry, nuc: string): Cell[] {
  const fact = entry.type === 'fact' ? entry.fact : entry.replacement;
  return [
    entry.id,
    nuc,
    entry.introductionId,
    entry.type,
    fact?.kind,
    iso(entry.happenedAtMs),
    iso(entry.writtenAtMs),
    entry.by,
    entry.note,
    entry.type === 'correction' ? entry.corrects : '',
    fact === undefined ? '' : JSON.stringify(fact),
    entry.onBehalfOf,
  ];
}

export function* logRows(store: Store): Generator<string> {
  yield csvRows([logColumns]);
  const nucs = new Map(store.places.listHives({ retired: true }).map((hive) => [hive.id, hive.name]));
  for (const { id, nucId } of store.introductions.list().reverse()) {
    const own = store.introductions.log(id).filter((entry) => entry.introductionId === id);
    yield csvRows(own.map((entry) => logRow(entry, nucs.get(nucId) ?? nucId)));
  }
}

const outcomeColumns: readonly (keyof OutcomeRow)[] = [
  'nuc',
  'site',
  'batch',
  'introductionId',
  'startingPoint',
  'method',
  'queen',
  'source',
  'splitAt',
  'releasedAt',
  'outcome',
  'outcomeAt',
];

export const outcomeRows = (rows: readonly OutcomeRow[]): string =>
  csvRows([outcomeColumns, ...rows.map((row) => outcomeColumns.map((column) => row[column]))]);
