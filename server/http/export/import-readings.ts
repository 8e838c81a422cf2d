/** Readings and what remains of them, messages that nobody understood, forecasts and calendar events of an export. */
import { StoreConflict } from '../../store/errors.ts';
import type { Store } from '../../store/store.ts';
import { msOf, present } from '../../farm/wire.ts';
import { revisionMark, startMark } from '../../views/plan/calendar-text.ts';
import { channelOf, unlessThere, type Handlers } from './import-outcome.ts';
import type { Line } from './lines.ts';

/** When each of a line's readings came: older exports don't say. */
function receipts({ readings: given, late }: Extract<Line, { kind: 'readings' }>, nowMs: number): number[] {
  if (!late) return given.map(() => nowMs);
  const came = new Map(late.map(([i, at]) => [i, msOf(at)]));
  return given.map(([time], i) => came.get(i) ?? msOf(time));
}

export function readings(store: Store, nowMs: () => number): Pick<Handlers, 'readings' | 'buckets' | 'past'> {
  return {
    buckets: ({ channel, size, buckets, last }) => {
      // Without last values they are made from readings that are there, or are calibrated already.
      if (size !== 'hour' || last?.length !== buckets.length) return 'left-out';
      const { id } = channelOf(store, channel);
      const hours = buckets.map(([start, mean, min, max, count], i) => ({
        atMs: msOf(start),
        mean,
        min,
        max,
        count,
        last: last[i] ?? mean,
      }));
      const added = store.readings.addPastHours(id, hours);
      return { added, alreadyThere: hours.length - added };
    },
    past: ({ channel, readings: gone, first, last: [time, value, suspect] }) => {
      const last = present({ atMs: msOf(time), value, suspect });
      const { id } = channelOf(store, channel);
      const noted = store.readings.notePast(id, { readings: gone, firstAtMs: msOf(first), last });
      return noted ? 'added' : 'already-there';
    },
    readings: (line) => {
      const { channel, readings: given } = line;
      const receivedAtMs = receipts(line, nowMs());
      const batch = given.map(([time, value, suspect], i) =>
        present({ ...channel, value, observedAtMs: msOf(time), receivedAtMs: receivedAtMs[i] ?? 0, suspect }),
      );
      const { stored, duplicates, conflicts } = store.ingest.commit({
        readings: batch,
        quarantined: [],
        lastKnown: [],
      });
      const quarantined = batch.length - stored.length - duplicates - conflicts;
      if (conflicts + quarantined > 0) {
        throw new StoreConflict(
          `${String(conflicts)} readings of ${channel.sensor} differ from those that are there, which stay; ` +
            `${String(quarantined)} can't be. ${String(stored.length)} were added.`,
        );
      }
      return { added: stored.length, alreadyThere: duplicates };
    },
  };
}

export function besides(store: Store): Pick<Handlers, 'quarantined' | 'forecast' | 'calendar-event'> {
  const { quarantine, forecasts, marks } = store;
  return {
    quarantined: ({ kind: _kind, payload, receivedAt, ...item }) =>
      unlessThere(
        !quarantine.restore({
          ...item,
          payload: Buffer.from(payload, 'base64'),
          receivedAtMs: msOf(receivedAt),
        }),
        () => undefined,
      ),
    forecast: ({ of, siteId = null, source, saidAt, knownAt, hours }) => {
      const knownAtMs = msOf(knownAt);
      const there = forecasts.at(of, siteId, knownAtMs)?.knownAtMs === knownAtMs;
      return unlessThere(there, () =>
        forecasts.keep({
          kind: of,
          siteId,
          source,
          saidAtMs: msOf(saidAt),
          knownAtMs,
          hours: hours.map(([at, temperatureC]) => ({ atMs: msOf(at), temperatureC })),
        }),
      );
    },
    'calendar-event': ({ step, startMs, revision }) =>
      unlessThere(marks.get(startMark(step)), () =>
        marks.setAll(
          new Map([
            [startMark(step), startMs],
            [revisionMark(step), revision],
          ]),
        ),
      ),
  };
}
