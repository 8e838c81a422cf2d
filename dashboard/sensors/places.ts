/** Where a channel of each quantity can stand. */
import type { Place } from '../../server/contract/common.ts';
import type { Hive, Site } from '../../server/contract/places.ts';
import type { Channel } from '../../server/contract/sensors.ts';

export const placesFor: Readonly<Record<Channel['quantity'], readonly Place[]>> = {
  weight: ['scale'],
  temperature: ['brood', 'cage', 'outside'],
  humidity: ['humidity'],
  battery: ['battery'],
  rain: ['rain'],
};

/** These are told for a whole site; the others for one hive. */
export const ofSite = (place: Place | undefined): boolean => place === 'outside' || place === 'rain';

export const notChosen = { value: '', words: 'choose one' };

/** The nucs and parent colonies to choose from; none is chosen yet, so that a press too many puts a sensor nowhere. */
export const choicesOf = (hives: readonly Hive[], sites: readonly Site[]) => [
  notChosen,
  ...hives.map(({ id, name, siteId }) => ({
    value: id,
    words: `${name}, ${sites.find((site) => site.id === siteId)?.name ?? ''}`,
  })),
];

const names: readonly (readonly [RegExp, Place])[] = [
  [/cage|queen/i, 'cage'],
  [/out|ambient|air|sky/i, 'outside'],
  [/brood|nest|in(side)?$/i, 'brood'],
];

/** Places by what the message calls its probes; of two channels that would stand at one place the second is left out. */
export function placesOfNode(channels: readonly Channel[]): ReadonlyMap<number, Place> {
  const found = new Map<number, Place>();
  const taken = new Set<Place>();
  for (const channel of channels) {
    const possible = placesFor[channel.quantity];
    const named = names.find(([word]) => word.test(channel.probe))?.[1];
    const place = [...(named === undefined ? [] : [named]), ...possible].find(
      (each) => possible.includes(each) && !taken.has(each),
    );
    if (place === undefined) continue;
    found.set(channel.id, place);
    taken.add(place);
  }
  return found;
}
