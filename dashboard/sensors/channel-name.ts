import type { Channel } from '../../server/contract/sensors.ts';
import { quantityWords } from '../words/labels.ts';

/** What its owner calls it, where it sends that; else how it is known here. */
export const sensorName = ({ sensor, name }: Pick<Channel, 'sensor' | 'name'>): string => name ?? sensor;

export const channelName = (channel: Pick<Channel, 'sensor' | 'name' | 'quantity' | 'probe'>): string =>
  `${sensorName(channel)}, ${quantityWords[channel.quantity]}${channel.probe === '' ? '' : ` (${channel.probe})`}`;
