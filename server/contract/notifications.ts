/** Notification channels. */
import * as z from 'zod';
import { idText, isoTime, listOf, nameText, urgencySchema, zoneText } from './common.ts';

/** `HH:MM`, from 00:00 to 23:59. */
const clockTime = /^([01]\d|2[0-3]):[0-5]\d$/;

const quietHoursSchema = z.object({
  from: z.string().regex(clockTime, 'HH:MM').default('22:00'),
  to: z.string().regex(clockTime, 'HH:MM').default('06:30'),
  timeZone: zoneText.default('UTC'),
});
export const channelKinds = ['mail', 'webhook', 'mqtt', 'browser', 'push'] as const;
/** Secrets go in and never come out: they read back as "set". */
export const notificationChannelSchema = z.object({
  id: idText,
  name: nameText,
  kind: z.enum(channelKinds),
  enabled: z.boolean().default(true),
  urgencies: z.array(urgencySchema).default(['now', 'today']),
  address: z
    .string()
    .max(2000)
    .default('')
    .describe('push: the endpoint of the browser’s subscription (RFC 8030); shown by its host alone'),
  secret: z
    .string()
    .max(2000)
    .optional()
    .describe('push: p256dh and auth of the subscription in base64url, joined by a full stop'),
  quietHours: quietHoursSchema.optional(),
  digestAt: z.string().regex(clockTime).optional(),
  endedAt: isoTime
    .optional()
    .describe('push: since when the device takes no messages; written by the server'),
});
export type NotificationChannel = z.infer<typeof notificationChannelSchema>;
export const notificationChannelSavedSchema = notificationChannelSchema.extend({
  secretDropped: z
    .boolean()
    .optional()
    .describe('True: the stored secret was for another kind, host, port or user, and was deleted'),
});
export const notificationChannelsSchema = listOf(notificationChannelSchema);
export const pushKeySchema = z.object({
  publicKey: z.string().describe('An uncompressed point of P-256 in base64url: the applicationServerKey'),
});
export const notificationTriedSchema = z.object({ ok: z.boolean(), detail: z.string() });
