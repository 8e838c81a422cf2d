/** Writes everything that is stored as lines (`lines.ts`), a few at a time. */
import type { Channel } from '../../store/channels/channels.ts';
import { suspectReason } from '../../store/readings/day-readings.ts';
import type { SuspectReason } from '../../store/port.ts';
import type { Store } from '../../store/store.ts';
import { revisionMark, startMark } from '../../views/plan/calendar-text.ts';
import { hiveToWire, iso, ownerToWire, present } from '../../farm/wire.ts';
import type { Line } from './lines.ts';
import { numbersIn } from './channel-numbers.ts';
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

function lastKnownOf({ lastKnown }: Channel): [string, number] | undefined {
  return lastKnown ? [iso(lastKnown.receivedAtMs), lastKnown.value] : undefined;
}

function* sensors({ channels, places: stored }: Store): Generator<Line> {
  for (const channel of channels.list()) {
    const key = keyOf(channel);
    yield present({ kind: 'channel' as const, channel: key, lastKnown: lastKnownOf(channel) });
    for (const { fact, fromMs, writtenAtMs, by } of channels.calibrationsOf(channel.id)) {
      const written = { writtenAt: iso(writtenAtMs), by: by ?? undefined };
      const line = { kind: 'calibration' as const, channel: key, fact: { ...fact, from: iso(fromMs) } };
      yield present({ ...line, ...written });
    }
    for (const { owner, position, fromMs, toMs } of stored.assignmentsOfChannel(channel.id)) {
      const to = toMs === null ? undefined : iso(toMs);
      yield present({
        kind: 'assignment' as const,
        channel: key,
        ...ownerToWire(owner),
        place: position,
        from: iso(fromMs),
        to,
      });
    }
  }
}

function* pageSettings({ settings, mappings, alerts, channels }: Store): Generator<Line> {
  for (const mapping of mappings.list()) yield { kind: 'mapping', ...mapping };
  for (const [key, stored] of settings.all()) {
    const { value } = portableSetting(key, stored);
    if (value !== undefined) yield { kind: 'setting', key, value };
  }
  for (const { changedAtMs, ...alert } of alerts.list({ limit: 1_000_000 })) {
    const named = numbersIn(alert).flatMap((id): [number, Key][] => {
      const channel = channels.get(id);
      return channel ? [[id, keyOf(channel)]] : [];
    });
    const numbers = named.length > 0 ? named : undefined;
    yield present({ kind: 'alert' as const, ...alert, channels: numbers, changedAt: iso(changedAtMs) });
  }
}

const pieceMs = 14 * 86_400_000;

function* rawOf(store: Store, channel: Channel): Generator<Line> {
  const { id, firstAtMs, latest } = channel;
  if (firstAtMs === null || latest === null) return;
  let count = 0;
  for (let fromMs = firstAtMs; fromMs <= latest.atMs; fromMs += pieceMs) {
    const toMs = Math.min(fromMs + pieceMs, latest.atMs + 1);
    const found = store.readings.arrivals({ channelId: id, fromMs, toMs, calibrated: false });
    count += found.atMs.length;
    for (let from = 0; from < found.atMs.length; from += aLine) yield readingsLine(channel, found, from);
  }
  yield* pastOf(store, channel, count);
}

function readingsLine(
  channel: Channel,
  { atMs, value, suspect, arrivedAtMs }: ReturnType<Store['readings']['arrivals']>,
  from: number,
): Line {
  const late: [number, string][] = [];
  const readings = Array.from(atMs.subarray(from, from + aLine), (at, i) => {
    const arrived = arrivedAtMs[from + i] ?? at;
    if (arrived !== at) late.push([i, iso(arrived)]);
    return readingOf(at, value[from + i] ?? 0, suspectReason(suspect[from + i] ?? 0));
  });
  return { kind: 'readings', channel: keyOf(channel), readings, late };
}

type Reading = Extract<Line, { kind: 'readings' }>['readings'][number];
const readingOf = (atMs: number, value: number, reason: SuspectReason | undefined): Reading =>
  reason === undefined ? [iso(atMs), value] : [iso(atMs), value, reason];

/** Hours whose raw readings are gone. @param kept how many readings are not */
function* pastOf(store: Store, channel: Channel, kept: number): Generator<Line> {
  const hours = store.readings.pastHours(channel.id);
  const last = hours.at(-1);
  const { firstAtMs, latest } = channel;
  if (!last || firstAtMs === null || latest === null) return;
  for (let from = 0; from < hours.length; from += aLine) {
    const some = hours.slice(from, from + aLine);
    yield {
      kind: 'buckets',
      channel: keyOf(channel),
      size: 'hour',
      buckets: some.map(({ atMs, mean, min, max, count }) => [iso(atMs), mean, min, max, count]),
      last: some.map((one) => one.last),
    };
  }
  yield {
    kind: 'past',
    channel: keyOf(channel),
    readings: channel.readings - kept,
    first: iso(firstAtMs),
    // Of readings that are still there the newest comes by itself.
    last:
      kept > 0
        ? [iso(last.atMs), last.last]
        : readingOf(latest.atMs, latest.rawValue, latest.suspect ?? undefined),
  };
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

function* misunderstood({ quarantine }: Store): Generator<Line> {
  for (const { id: _own, payload, receivedAtMs, ...item } of quarantine.list().reverse()) {
    const text = Buffer.from(payload).toString('base64');
    yield { kind: 'quarantined', ...item, payload: text, receivedAt: iso(receivedAtMs) };
  }
}

function* foreseen({ forecasts }: Store): Generator<Line> {
  for (const { kind: of, siteId, source, saidAtMs, knownAtMs, hours } of forecasts.list())
    yield present({
      kind: 'forecast' as const,
      of,
      siteId: siteId ?? undefined,
      source,
      saidAt: iso(saidAtMs),
      knownAt: iso(knownAtMs),
      hours: hours.map(({ atMs, temperatureC }): [string, number] => [iso(atMs), temperatureC]),
    });
}

function* calendarEvents({ marks }: Store): Generator<Line> {
  const revisions = marks.all(revisionMark(''));
  for (const [name, startMs] of marks.all(startMark(''))) {
    const step = name.slice(startMark('').length);
    yield { kind: 'calendar-event', step, startMs, revision: revisions.get(revisionMark(step)) ?? 0 };
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
  yield* counted(misunderstood(store));
  yield* counted(foreseen(store));
  yield* counted(calendarEvents(store));
  if (readings !== 'none') {
    for (const channel of store.channels.list()) {
      yield* counted(readings === 'raw' ? rawOf(store, channel) : bucketsOf(store, channel, readings));
    }
  }
  yield { kind: 'end', lines };
}

/** The same as text, a line a piece. */
export function* everythingText(store: Store, options: EverythingOptions): Generator<string> {
  for (const line of everything(store, options)) yield `${JSON.stringify(line)}\n`;
}
