import type { Channel } from '../../server/contract/sensors.ts';
import { quantityWords } from '../words/labels.ts';

export const channelName = (channel: Pick<Channel, 'sensor' | 'quantity' | 'probe'>): string =>
  `${channel.sensor}, ${quantityWords[channel.quantity]}${channel.probe === '' ? '' : ` (${channel.probe})`}`;
