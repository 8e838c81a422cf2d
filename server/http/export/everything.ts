/** Writes everything that is stored as lines (`lines.ts`), a few at a time. */
import type { Channel } from '../../store/channels.ts';
import { suspectReason } from '../../store/readings/day-readings.ts';
import type { Store } from '../../store/store.ts';
import { rawPieces } from '../routes/readings.ts';
import { hiveToWire, iso, ownerToWire, present } from '../../farm/wire.ts';
import type { Line } from './lines.ts';
import { exportFormat } from './lines.ts';
import { portableSetting } from './portable-settings.ts';

export interface EverythingOptions {
  readonly version: string;
  readonly nowMs: number;
  /** Which readings come along. */
  readonly readings: 'raw' | 'hour' | 'day' | 'none';
}

/** Readings or buckets a line. */
const aLine = 1000;
const allTime = { fromMs: 0, toMs: Date.UTC(3000, 0) };

type Key = Extract<Line, { kind: 'channel' }>['channel'];
const keyOf = ({ sensor, quantity, probe, unit }: Channel): Key => ({ sensor, quantity, probe, unit });

function* places({ places: stored }: Store): Generator<Line> {
  for (const site of stored.listSites()) yield { kind: 'site', ...site };
  const hives = stored.listHives({ retired: true });
  // A parent colony before the nucs that were split from it, whatever their names.
  const written = new Set<string>();
  let waiting = hives;
  while (waiting.length > 0) {
    const ready = waiting.filter((hive) => hive.parentHiveId === undefined || written.has(hive.parentHiveId));
    for (const hive of ready) {
      written.add(hive.id);
      yield { kind: 'hive', ...hiveToWire(hive) };
    }
    if (ready.length === 0) return;
    waiting = waiting.filter((hive) => !written.has(hive.id));
  }
}

function* breeding({ queens, introductions }: Store): Generator<Line> {
  for (const { assigned: _counted, ...arrival } of queens.arrivals()) yield { kind: 'arrival', ...arrival };
  for (const queen of queens.queens()) yield { kind: 'queen', ...queen };
  for (const { openedAtMs, closedAtMs, ...introduction } of introductions.list().reverse()) {
    const closedAt = closedAtMs === undefined ? undefined : iso(closedAtMs);
    yield present({
      kind: 'introduction' as const,
      ...introduction,
      setup: { ...introduction.setup },
      openedAt: iso(openedAtMs),
      closedAt,
    });
  }
  // One by one per introduction: a statement that is still being read would keep everybody else from writing.
  const seen = new Set<string>();
  for (const { id } of introductions.list()) {
    for (const entry of introductions.log(id)) {
      if (!seen.has(entry.id)) yield { kind: 'log', entry };
      seen.add(entry.id);
    }
  }
}

function* hiveVisits(store: Store): Generator<Line> {
  for (const { kind: what, happenedAtMs, writtenAtMs, withdrawnAtMs, ...visit } of store.hiveVisits.all()) {
    const withdrawnAt = withdrawnAtMs === undefined ? undefined : iso(withdrawnAtMs);
    const times = { happenedAt: iso(happenedAtMs), writtenAt: iso(writtenAtMs), withdrawnAt };
    yield present({ kind: 'hive-visit' as const, what, ...visit, ...times });
  }
}

function* sensors({ channels, places: stored }: Store): Generator<Line> {
  for (const channel of channels.list()) {
    const key = keyOf(channel);
    yield { kind: 'channel', channel: key };
    for (const { fact, fromMs } of channels.calibrationsOf(channel.id)) {
      yield { kind: 'calibration', channel: key, fact: { ...fact, from: iso(fromMs) } };
    }
    for (const { owner, spot, fromMs, toMs } of stored.assignmentsOfChannel(channel.id)) {
      const to = toMs === null ? undefined : iso(toMs);
      yield present({
        kind: 'assignment' as const,
        channel: key,
        ...ownerToWire(owner),
        place: spot,
        from: iso(fromMs),
        to,
      });
    }
  }
}

function* pageSettings({ settings, mappings, alerts }: Store): Generator<Line> {
  for (const mapping of mappings.list()) yield { kind: 'mapping', ...mapping };
  for (const [key, stored] of settings.all()) {
    const { value } = portableSetting(key, stored);
    if (value !== undefined) yield { kind: 'setting', key, value };
  }
  for (const { changedAtMs, ...alert } of alerts.list({ limit: 1_000_000 })) {
    yield { kind: 'alert', ...alert, changedAt: iso(changedAtMs) };
  }
}

function* rawOf(store: Store, channel: Channel): Generator<Line> {
  const span = { channelId: channel.id, ...allTime, calibrated: false, includeSuspect: true };
  for (const { atMs, value, suspect } of rawPieces(store, span)) {
    for (let from = 0; from < atMs.length; from += aLine) {
      const readings = Array.from(atMs.subarray(from, from + aLine), (at, i) => {
        const reason = suspectReason(suspect[from + i] ?? 0);
        const reading: [string, number] = [iso(at), value[from + i] ?? 0];
        return reason === undefined ? reading : ([...reading, reason] as [string, number, typeof reason]);
      });
      yield { kind: 'readings', channel: keyOf(channel), readings };
    }
  }
}

function* bucketsOf(store: Store, channel: Channel, size: 'hour' | 'day'): Generator<Line> {
  const found = store.readings.query({ channelId: channel.id, ...allTime, resolution: size });
  for (let from = 0; from < found.atMs.length; from += aLine) {
    const buckets = Array.from(
      found.atMs.subarray(from, from + aLine),
      (at, k): [string, number, number, number, number] => {
        const i = from + k;
        return [iso(at), found.mean[i] ?? 0, found.min[i] ?? 0, found.max[i] ?? 0, found.count[i] ?? 0];
      },
    );
    yield { kind: 'buckets', channel: keyOf(channel), size, buckets };
  }
}

export function* everything(store: Store, options: EverythingOptions): Generator<Line> {
  const { version, nowMs, readings } = options;
  yield { kind: 'welcomb-export', format: exportFormat, version, exportedAt: iso(nowMs) };
  let lines = 1;
  function* counted(part: Iterable<Line>): Generator<Line> {
    for (const line of part) {
      lines += 1;
      yield line;
    }
  }
  yield* counted(places(store));
  yield* counted(breeding(store));
  yield* counted(hiveVisits(store));
  yield* counted(sensors(store));
  yield* counted(pageSettings(store));
  if (readings !== 'none') {
    for (const channel of store.channels.list()) {
      yield* counted(readings === 'raw' ? rawOf(store, channel) : bucketsOf(store, channel, readings));
    }
  }
  yield { kind: 'end', lines };
}
