/** Where a channel of each quantity can stand. */
import type { Place } from '../../server/contract/common.ts';
import type { Channel } from '../../server/contract/sensors.ts';

export const placesFor: Readonly<Record<Channel['quantity'], readonly Place[]>> = {
  weight: ['scale'],
  temperature: ['brood', 'cage', 'outside'],
  humidity: ['humidity'],
  battery: ['battery'],
  rain: ['rain'],
};

/** These are told for a whole site; the others for one hive. */
export const ofSite = (place: Place): boolean => place === 'outside' || place === 'rain';
