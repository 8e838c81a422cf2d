/** What the rules look at, gathered from the desk, the channels and the server. */
import type { ChannelHealth, ChannelInput, NucInput, ServerInput, SiteInput } from '../rules/inputs.ts';
import type { Subject } from '../rules/types.ts';
import type { Channel } from '../store/channels.ts';
import type { Assignment } from '../store/places/assignments.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Site } from '../store/places/sites.ts';
import { plannedVisits, stageFacts } from './stage-facts.ts';
import type { NucAnalysis } from './nuc-analysis.ts';

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
  const { nuc, site, state, plan, signals } = analysis;
  return {
    on: 'nuc',
    nowMs,
    subject: nucSubject(nuc, site),
    timeZone: site.timeZone,
    introduction: stageFacts(analysis),
    plan: plannedVisits(plan),
    signals,
    sensors,
    lastVisitAtMs: state?.lastVisitAtMs ?? null,
    batch,
  };
}

/** Names a channel by where it stands, and only else by its device. */
export function channelSubject(
  channel: Channel,
  at: { readonly assignment: Assignment; readonly hive?: Hive; readonly site: Site },
): Subject {
  const { assignment, hive, site } = at;
  return {
    kind: 'channel',
    id: String(channel.id),
    name: `${placeWords[assignment.spot]} of ${hive?.name ?? site.name}`,
    siteId: site.id,
    siteName: site.name,
    ...(hive ? { nucId: hive.id } : {}),
  };
}

const placeWords: Readonly<Record<Assignment['spot'], string>> = {
  scale: 'scale',
  brood: 'brood probe',
  cage: 'cage probe',
  outside: 'outside probe',
  rain: 'rain gauge',
  humidity: 'humidity sensor',
  battery: 'battery',
};

export const channelInput = (
  subject: Subject,
  timeZone: string,
  channel: ChannelHealth,
  nowMs: number,
): ChannelInput => ({
  on: 'channel',
  nowMs,
  subject,
  timeZone,
  channel,
});

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
