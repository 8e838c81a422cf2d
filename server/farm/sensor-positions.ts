/** Which channel stands where, right now; read once and kept until somebody moves a sensor. */
import type { Assignment } from '../store/places/assignments.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Site } from '../store/places/sites.ts';
import type { Store } from '../store/store.ts';
import { groupBy } from '../group-by.ts';

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

/** Where an assignment puts its channel; undefined where the place is no more. */
export type Placing = (assignment: Assignment) => StandingChannel | undefined;

export function placing(sites: readonly Site[], hives: readonly Hive[]): Placing {
  const siteById = new Map(sites.map((site) => [site.id, site]));
  const hiveById = new Map(hives.map((hive) => [hive.id, hive]));
  return (assignment) => {
    const { owner } = assignment;
    const hive = 'hiveId' in owner ? hiveById.get(owner.hiveId) : undefined;
    const site = siteById.get('siteId' in owner ? owner.siteId : (hive?.siteId ?? ''));
    return site && { assignment, site, ...(hive ? { hive } : {}) };
  };
}

export function readWhere(store: Store, nowMs: number): Where {
  const sites = store.places.listSites();
  const hives = store.places.listHives();
  const place = placing(sites, hives);
  const nucs = hives.filter(({ role }) => role === 'nuc');
  const ofChannel = new Map<number, StandingChannel>();
  for (const assignment of store.places.assignmentsAt(nowMs)) {
    const standing = place(assignment);
    if (standing) ofChannel.set(assignment.channelId, standing);
  }
  const nucsOfSite = groupBy(nucs, ({ siteId }) => siteId);
  return { ofChannel, nucs, sites, nucsOfSite };
}
