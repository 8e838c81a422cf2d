/** Pieces that several parts of the HTTP contract share. Times on the wire are ISO 8601 with an offset. */
import { userErrorCodes, type UserErrorCode } from '../user-error.ts';
import * as z from 'zod';

export const isoTime = z.iso.datetime({ offset: true }).describe('ISO 8601 instant with offset');
export const localDate = z.iso.date().describe('Calendar day at the site, YYYY-MM-DD');
export const idText = z
  .string()
  .min(1)
  .max(64)
  .regex(/^[A-Za-z0-9_-]+$/, 'letters, digits, - and _ only');
export const nameText = z.string().trim().min(1, 'a name is needed').max(120, 'at most 120 characters');

export const zoneText = z
  .string()
  .max(60)
  .refine((name) => {
    try {
      new Intl.DateTimeFormat('en', { timeZone: name });
      return true;
    } catch {
      return false;
    }
  }, 'not an IANA time zone, such as Europe/Berlin');

/** Every list is an object, so that it can grow a field without breaking its readers. */
export const listOf = <T extends z.ZodType>(item: T) => z.object({ items: z.array(item) });

/** RFC 9457. `type` is the error's stable code: a relative reference that programs compare as it is. */
export const problemSchema = z.object({
  type: z.enum(Object.keys(userErrorCodes) as UserErrorCode[]),
  title: z.string(),
  status: z.number().int(),
  detail: z.string().optional(),
  instance: z.string().optional(),
  errors: z.array(z.object({ pointer: z.string(), detail: z.string() })).optional(),
});
export type Problem = z.infer<typeof problemSchema>;

/** What an alert can be about. */
export const subjectKinds = ['nuc', 'site', 'device', 'channel', 'server'] as const;
export const urgencySchema = z.enum(['now', 'today', 'next-visit']);

/** A number with its interval, or why there is none. */
export const estimateSchema = z.discriminatedUnion('ok', [
  z.object({
    ok: z.literal(true),
    value: z.number(),
    low: z.number(),
    high: z.number(),
    level: z.number(),
    restsOn: z.array(z.string()),
  }),
  z.object({ ok: z.literal(false), why: z.string() }),
]);

const placeKinds = ['scale', 'brood', 'cage', 'outside', 'rain', 'humidity', 'battery'] as const;
export const placeSchema = z.enum(placeKinds);
export type Place = z.infer<typeof placeSchema>;

/** How recent a shown value is; `stale` once it is older than the channel's own rhythm allows. */
export const latestSchema = z.object({
  value: z.number(),
  unit: z.string(),
  time: isoTime,
  stale: z.boolean(),
  suspect: z.boolean(),
  impossible: z
    .boolean()
    .optional()
    .describe('An error value, or nothing that the sensor can measure: shown as a fault, not as a figure'),
});
