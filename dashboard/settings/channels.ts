/** The farm's notification channels, and what is asked for each kind. */
import type { NotificationChannel } from '../../server/contract/notifications.ts';
import { call } from '../api/client.ts';
import { resource } from '../state/resource.ts';

export const notificationChannels = resource(() => call('listTellings', {}));

export const kinds: Readonly<
  Record<
    NotificationChannel['kind'],
    { readonly words: string; readonly address: string; readonly secret?: string }
  >
> = {
  mail: { words: 'mail', address: 'Mail address', secret: 'Password of the mail account, if needed' },
  webhook: {
    words: 'webhook',
    address: 'Address that takes the message',
    secret: 'Token to send with it, if one is wanted',
  },
  mqtt: { words: 'MQTT', address: 'Topic to publish on' },
  push: { words: 'a phone or computer', address: '' },
  browser: { words: 'an open page', address: 'Name of the device' },
};
