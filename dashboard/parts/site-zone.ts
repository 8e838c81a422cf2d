import { deviceZone } from '../format/when.ts';
import { sites } from '../state/farm.ts';

/** The site's zone, or that of this device where the site is not known (yet). */
export function zoneOfSite(siteId: string | undefined): string {
  const all = sites.known.value.data?.items;
  const site = all?.find((one) => one.id === siteId) ?? (siteId === undefined ? all?.[0] : undefined);
  return site?.timeZone ?? deviceZone();
}
