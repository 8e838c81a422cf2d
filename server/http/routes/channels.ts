/** Channels with their newest reading and health, and their calibrations. */
import type { CalibrationFact, Calibration } from '../../store/readings/calibration.ts';
import type { Channel } from '../../store/channels/channels.ts';
import { isDoubtful } from '../../store/readings/day-readings.ts';
import type { Store } from '../../store/store.ts';
import { healthOf, usualIntervalMs } from '../../views/channel-rhythm.ts';
import type { ParsedBodyOf, ResponseOf } from '../../contract/index.ts';
import type { Channel as ChannelDto } from '../../contract/sensors.ts';
import type { AppDeps } from '../deps.ts';
import { implement } from '../operation.ts';
import { orNotFound } from '../../user-error.ts';
import { assignmentToWire, doubtOf, iso, msOf, rawCountsOf } from '../../farm/wire.ts';
import { dayMs } from '../../durations.ts';

/** How long what was worked out from a channel's last day may be shown again. */
const keepMs = 60_000;

interface LastDay {
  readonly atMs: number;
  readonly latestAtMs: number;
  readonly intervalMs: number | null;
  readonly suspects: number;
}

const everyS = (day: LastDay | undefined): number | null =>
  day === undefined || day.intervalMs === null ? null : day.intervalMs / 1000;

/** Rhythm and suspects of each channel's last day of readings, worked out at most once a minute. */
function lastDays(store: Store) {
  const kept = new Map<number, LastDay>();
  return (channel: Channel, nowMs: number): LastDay | undefined => {
    if (!channel.latest) return undefined;
    const latestAtMs = channel.latest.atMs;
    const before = kept.get(channel.id);
    if (before && (before.latestAtMs === latestAtMs || nowMs - before.atMs < keepMs)) return before;
    const { atMs, suspect } = store.readings.query({
      channelId: channel.id,
      fromMs: latestAtMs - dayMs,
      toMs: latestAtMs + 1,
      resolution: 'raw',
      includeSuspect: true,
      calibrated: false,
    });
    let suspects = 0;
    suspect.forEach((flag, i) => {
      if (isDoubtful(flag) && (atMs[i] ?? 0) > nowMs - dayMs) suspects += 1;
    });
    const day = { atMs: nowMs, latestAtMs, intervalMs: usualIntervalMs(atMs), suspects };
    kept.set(channel.id, day);
    return day;
  };
}

function ownerNames(store: Store): (owner: { hiveId: string } | { siteId: string }) => string {
  const hives = new Map(store.places.listHives({ retired: true }).map((hive) => [hive.id, hive.name]));
  const sites = new Map(store.places.listSites().map((site) => [site.id, site.name]));
  return (owner) => ('hiveId' in owner ? hives.get(owner.hiveId) : sites.get(owner.siteId)) ?? '';
}

function listChannels(store: Store, lastDayOf: ReturnType<typeof lastDays>, nowMs: number): ChannelDto[] {
  const nameOf = ownerNames(store);
  const called = store.announcements.names();
  const standing = new Map(store.places.assignmentsAt(nowMs).map((one) => [one.channelId, one]));
  return store.channels.list().map((channel) => {
    const day = lastDayOf(channel, nowMs);
    const { health, healthText, stale } = healthOf(
      channel.latest?.atMs ?? null,
      day?.intervalMs ?? null,
      nowMs,
    );
    const assignment = standing.get(channel.id);
    return {
      id: channel.id,
      sensor: channel.sensor,
      name: called.get(channel.sensor) ?? null,
      quantity: channel.quantity,
      probe: channel.probe,
      unit: channel.unit,
      latest: channel.latest && {
        value: channel.latest.value,
        unit: channel.unit,
        time: iso(channel.latest.atMs),
        stale,
        ...doubtOf(channel.latest),
      },
      firstTime: channel.firstAtMs === null ? null : iso(channel.firstAtMs),
      expectedIntervalS: everyS(day),
      health,
      healthText,
      suspects24h: day?.suspects ?? 0,
      rawCounts: rawCountsOf(channel.latest),
      readings: channel.readings,
      assignment: assignment
        ? { ...assignmentToWire(assignment), ownerName: nameOf(assignment.owner) }
        : null,
    };
  });
}

function factOf(body: ParsedBodyOf<'addCalibration'>): CalibrationFact {
  const { from: _from, ...fact } = body;
  return fact;
}
const calibrationToWire = (one: Calibration): ResponseOf<'addCalibration'> => ({
  id: one.id,
  channelId: one.channelId,
  from: iso(one.fromMs),
  fact: { ...one.fact, from: iso(one.fromMs) },
  writtenAt: iso(one.writtenAtMs),
});

export function channelRoutes({ store, views, events, ingest }: AppDeps) {
  const lastDayOf = lastDays(store);
  return {
    ...implement('listChannels', ({ nowMs }) => ({ items: listChannels(store, lastDayOf, nowMs) })),
    ...implement('forgetChannels', async ({ body, nowMs }) => {
      const forgotten = store.forgetChannels(body.ids, body.evenAssigned);
      ingest.setCalibrated(store.channels.calibrated());
      events.publish({ type: 'channels' });
      await views.afterSetupChange(nowMs);
      return { forgotten };
    }),
    ...implement('listCalibrations', ({ params }) => {
      orNotFound(store.channels.get(params.id), 'channel', params.id);
      return { items: store.channels.calibrationsOf(params.id).map(calibrationToWire) };
    }),
    ...implement('addCalibration', async ({ params, body, actor, nowMs }) => {
      orNotFound(store.channels.get(params.id), 'channel', params.id);
      const fact = store.channels.calibrate(params.id, msOf(body.from), factOf(body), actor.name);
      ingest.setCalibrated(store.channels.calibrated());
      events.publish({ type: 'channels' });
      const stood = store.places.assignmentsOfChannel(params.id).map(({ owner }) => owner);
      await views.afterSetupChange(nowMs, stood);
      return calibrationToWire(fact);
    }),
  };
}
