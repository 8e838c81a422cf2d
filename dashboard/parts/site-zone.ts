import { computed } from '@preact/signals';
import { deviceZone } from '../format/when.ts';
import { sites } from '../state/farm.ts';

/** Changes when the sites do, not whenever they are asked for again. */
const all = computed(() => sites.snapshot.value.data?.items);

export function knownZoneOf(siteId: string | undefined): string | undefined {
  const list = all.value;
  const site = list?.find((one) => one.id === siteId) ?? (siteId === undefined ? list?.[0] : undefined);
  return site?.timeZone;
}

/** The site's zone; where the site is not known (yet), the one remembered, or that of this device. */
export const zoneOfSite = (siteId: string | undefined, remembered?: string): string =>
  knownZoneOf(siteId) ?? remembered ?? deviceZone();
