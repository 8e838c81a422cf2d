/** Notification channels. Paths, operations and the stored keys keep their first word for them: a telling. */
import * as notifications from '../notifications.ts';
import { byId, type Operation } from './operation.ts';

export const notificationOperations = {
  listTellings: {
    method: 'get',
    path: '/settings/tellings',
    role: 'keeper',
    summary: 'Notification channels',
    response: notifications.notificationChannelsSchema,
  },
  putTelling: {
    method: 'put',
    path: '/settings/tellings/{id}',
    role: 'keeper',
    summary: 'Save a notification channel',
    params: byId,
    body: notifications.notificationChannelSchema.omit({ id: true }),
    response: notifications.notificationChannelSavedSchema,
  },
  deleteTelling: {
    method: 'delete',
    path: '/settings/tellings/{id}',
    role: 'keeper',
    summary: 'Delete a notification channel',
    params: byId,
  },
  tryTelling: {
    method: 'post',
    path: '/settings/tellings/{id}/try',
    role: 'keeper',
    summary: 'Send a test message',
    params: byId,
    response: notifications.notificationTriedSchema,
  },
  pushKey: {
    method: 'post',
    path: '/settings/push-key',
    role: 'keeper',
    summary: 'The key by which a browser subscribes to push messages; made when it is first asked for',
    response: notifications.pushKeySchema,
  },
} as const satisfies Record<string, Operation>;
