/** The inputs of the rules, gathered from the nucs, the channels and the server. */
import type {
  ChannelHealth,
  ChannelInput,
  DeviceInput,
  NucInput,
  RuleInput,
  ServerInput,
  SiteInput,
} from '../rules/engine/inputs.ts';
import type { Subject } from '../rules/engine/types.ts';
import type { Assignment } from '../store/places/assignments.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Site } from '../store/places/sites.ts';
import { groupBy } from '../group-by.ts';
import { visitEvents } from './known-events.ts';
import { plannedVisits, stageFacts } from './stage-facts.ts';
import type { NucAnalysis } from './nuc-analysis.ts';
import type { StandingChannel } from '../farm/sensor-positions.ts';

/** In the log of its introduction, or outside one; null where there was none. */
function lastVisitAtMs({ state, visits }: NucAnalysis, nowMs: number): number | null {
  const outside = visitEvents(visits, nowMs).map(({ atMs }) => atMs);
  const last = Math.max(state?.lastVisitAtMs ?? -Infinity, ...outside);
  return last === -Infinity ? null : last;
}

const nucSubject = (nuc: Hive, site: Site): Subject => ({
  kind: 'nuc',
  id: nuc.id,
  name: nuc.name,
  siteId: site.id,
  siteName: site.name,
  nucId: nuc.id,
});

export function nucInput(
  analysis: NucAnalysis,
  sensors: readonly ChannelHealth[],
  batch: NucInput['batch'],
  nowMs: number,
): NucInput {
  const { nuc, site, plan, signals } = analysis;
  return {
    on: 'nuc',
    nowMs,
    subject: nucSubject(nuc, site),
    timeZone: site.timeZone,
    introduction: stageFacts(analysis),
    plan: plannedVisits(plan),
    signals,
    sensors,
    lastVisitAtMs: lastVisitAtMs(analysis, nowMs),
    batch,
  };
}

/** Names a channel by where it stands, and only else by its device. */
function channelSubject(channelId: number, { assignment, hive, site }: StandingChannel): Subject {
  return {
    kind: 'channel',
    id: String(channelId),
    name: `${placeWords[assignment.position]} of ${hive?.name ?? site.name}`,
    siteId: site.id,
    siteName: site.name,
    ...(hive ? { nucId: hive.id } : {}),
  };
}

const placeWords: Readonly<Record<Assignment['position'], string>> = {
  scale: 'scale',
  brood: 'brood probe',
  cage: 'cage probe',
  outside: 'outside probe',
  rain: 'rain gauge',
  humidity: 'humidity sensor',
  battery: 'battery',
};

/** A channel that stands somewhere, and how it is doing. */
export interface WatchedChannel extends StandingChannel {
  readonly health: ChannelHealth;
}

const channelInput = (channel: WatchedChannel, nowMs: number): ChannelInput => ({
  on: 'channel',
  nowMs,
  subject: channelSubject(channel.health.channelId, channel),
  timeZone: channel.site.timeZone,
  channel: channel.health,
});

/** All channels of one device together: they come, and fall silent, in one message. */
function deviceInput(
  device: string,
  [first, ...others]: readonly [WatchedChannel, ...WatchedChannel[]],
  nowMs: number,
): DeviceInput {
  const { site, hive } = first;
  const all = [first, ...others];
  const channels = all.map((one) => ({
    name: channelSubject(one.health.channelId, one).name,
    health: one.health,
  }));
  const oneNuc = others.every((other) => other.hive?.id === hive?.id);
  const nucIds = [...new Set(all.flatMap((one) => one.hive?.id ?? []))];
  const name = channels.length === 1 ? channels[0]?.name : undefined;
  return {
    on: 'device',
    nowMs,
    subject: {
      kind: 'device',
      id: device,
      name: name ?? `${device} at ${(oneNuc ? hive?.name : undefined) ?? site.name}`,
      siteId: site.id,
      siteName: site.name,
      ...(hive && oneNuc ? { nucId: hive.id } : {}),
      ...(oneNuc ? {} : { nucIds }),
    },
    timeZone: site.timeZone,
    channels,
  };
}

/** Each device once, then each channel by itself. */
export function sensorInputs(channels: readonly WatchedChannel[], nowMs: number): RuleInput[] {
  const devices = [...groupBy(channels, ({ health }) => health.sensor)];
  return [
    ...devices.map(([device, ofDevice]) => deviceInput(device, ofDevice, nowMs)),
    ...channels.map((one) => channelInput(one, nowMs)),
  ];
}

export const siteInput = (site: Site, sensors: readonly ChannelHealth[], nowMs: number): SiteInput => ({
  on: 'site',
  nowMs,
  subject: { kind: 'site', id: site.id, name: site.name, siteId: site.id, siteName: site.name },
  timeZone: site.timeZone,
  sensors,
});

export const serverInput = (facts: Omit<ServerInput, 'on' | 'subject'>): ServerInput => ({
  ...facts,
  on: 'server',
  subject: { kind: 'server', id: 'server', name: 'this server' },
});
