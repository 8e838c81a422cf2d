import { computed } from '@preact/signals';
import { deviceZone } from '../format/when.ts';
import { sites } from '../state/farm.ts';

/** Changes when the sites do, not whenever they are asked for again. */
const all = computed(() => sites.snapshot.value.data?.items);

/** The site's zone, or that of this device where the site is not known (yet). */
export function zoneOfSite(siteId: string | undefined): string {
  const list = all.value;
  const site = list?.find((one) => one.id === siteId) ?? (siteId === undefined ? list?.[0] : undefined);
  return site?.timeZone ?? deviceZone();
}
