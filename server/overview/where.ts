/** Which channel stands where, right now; read once and kept until somebody moves a sensor. */
import type { Assignment } from '../store/places/assignments.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Site } from '../store/places/sites.ts';
import type { Store } from '../store/store.ts';
import { groupBy } from './group-by.ts';

export interface StandingChannel {
  readonly assignment: Assignment;
  readonly hive?: Hive;
  readonly site: Site;
}

export interface Where {
  readonly ofChannel: ReadonlyMap<number, StandingChannel>;
  readonly nucs: readonly Hive[];
  readonly sites: readonly Site[];
  readonly nucsOfSite: ReadonlyMap<string, readonly Hive[]>;
}

export function readWhere(store: Store, nowMs: number): Where {
  const sites = store.places.listSites();
  const siteById = new Map(sites.map((site) => [site.id, site]));
  const hives = store.places.listHives();
  const hiveById = new Map(hives.map((hive) => [hive.id, hive]));
  const nucs = hives.filter(({ role }) => role === 'nuc');
  const ofChannel = new Map<number, StandingChannel>();
  for (const assignment of store.places.assignmentsAt(nowMs)) {
    const { owner } = assignment;
    const hive = 'hiveId' in owner ? hiveById.get(owner.hiveId) : undefined;
    const site = siteById.get('siteId' in owner ? owner.siteId : (hive?.siteId ?? ''));
    if (site) ofChannel.set(assignment.channelId, { assignment, site, ...(hive ? { hive } : {}) });
  }
  const nucsOfSite = groupBy(nucs, ({ siteId }) => siteId);
  return { ofChannel, nucs, sites, nucsOfSite };
}
