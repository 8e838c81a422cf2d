/** Alerts, what was done about them, and why a rule did or did not speak. */
import * as z from 'zod';
import { idText, isoTime, listOf, placeSchema, subjectKinds, urgencySchema } from './common.ts';

export const alertSchema = z.object({
  id: z.string(),
  ruleId: z.string(),
  title: z.string(),
  subject: z.object({
    kind: z.enum(subjectKinds),
    id: z.string(),
    name: z.string(),
    nucIds: z
      .array(z.string())
      .describe('the nucs that it is about: several for a device that serves several'),
  }),
  siteId: idText.optional(),
  siteName: z.string().optional(),
  urgency: urgencySchema,
  phase: z.enum(['holding', 'raised', 'no-data', 'clearing', 'put-off', 'cleared', 'closed']),
  /** What to do and by when · what was seen · why that matters at this stage · how sure. */
  todo: z.string(),
  by: isoTime.optional(),
  seen: z.string(),
  why: z.string(),
  howSure: z.string(),
  settledBy: z.string().optional(),
  bring: z.array(z.string()).describe('What the help needs, for the list of things to bring'),
  since: isoTime,
  raisedAt: isoTime.nullable(),
  clearedAt: isoTime.nullable(),
  /** While it holds: when it will be raised if it lasts; while it clears: when it will be cleared. */
  nextChangeAt: isoTime.nullable(),
  seenBy: z.object({ by: z.string(), at: isoTime, note: z.string().optional() }).nullable(),
  putOffUntil: isoTime.nullable(),
  found: z.string().nullable(),
  evidence: z
    .object({
      place: placeSchema,
      unit: z.string(),
      points: z.array(z.tuple([z.number(), z.number()])),
      limit: z.number().optional(),
    })
    .nullable(),
  explains: z.array(z.string()).describe('Findings that this one explains and keeps quiet'),
  explainedBy: z
    .string()
    .nullable()
    .describe('Id of the open alert that came after this one and includes it'),
  history: z.array(z.object({ at: isoTime, text: z.string() })),
});
export type AlertDto = z.infer<typeof alertSchema>;
export const alertsSchema = listOf(alertSchema).extend({
  looking: z
    .boolean()
    .optional()
    .describe('Readings are still being looked through, after a start or late ones: more alerts may come'),
});
export const alertsQuerySchema = z.object({
  state: z.enum(['open', 'all', 'holding']).default('open'),
  nuc: idText.optional(),
  limit: z.coerce.number().int().min(1).max(1000).default(200),
});

export const alertActionSchema = z.discriminatedUnion('action', [
  z.object({ action: z.literal('seen'), note: z.string().max(500).optional() }),
  z.object({ action: z.literal('put-off'), until: isoTime }),
  z.object({ action: z.literal('close'), found: z.string().min(1, 'say what was found').max(500) }),
  z.object({ action: z.literal('reopen') }),
]);

export const evaluationSchema = z.object({
  ruleId: z.string(),
  title: z.string(),
  about: z.string(),
  verdict: z.enum(['yes', 'no', 'no-data', 'not-applicable']),
  at: isoTime,
  conditions: z.array(
    z.object({ name: z.string(), value: z.string(), limit: z.string(), met: z.boolean().nullable() }),
  ),
  quietBecause: z.string().optional(),
});
export const evaluationsSchema = listOf(evaluationSchema);
export type EvaluationDto = z.infer<typeof evaluationSchema>;

/** What the event stream carries: which things changed, so that the page asks for just those. */
export const liveEventSchema = z.discriminatedUnion('type', [
  z.object({
    type: z.literal('reading'),
    channelId: z.number().int(),
    hiveId: z.string().optional(),
    siteId: z.string().optional(),
    place: z.string().optional(),
    value: z.number(),
    unit: z.string(),
    time: isoTime,
    suspect: z.boolean().optional(),
    impossible: z.boolean().optional().describe('As in a newest reading'),
    rawCounts: z.number().optional().describe('What a scale without a calibration sent, in counts'),
  }),
  z.object({
    type: z.literal('alert'),
    id: z.string(),
    phase: z.string(),
    urgency: urgencySchema,
    headline: z.string(),
  }),
  z.object({
    type: z.literal('nuc'),
    id: z.string(),
    logged: z.boolean().optional().describe('Something was logged: answers from before it are out of date'),
  }),
  z.object({ type: z.literal('channels') }),
  z.object({ type: z.literal('status') }),
  z.object({ type: z.literal('hello'), time: isoTime, version: z.string() }),
]);
export type LiveEvent = z.infer<typeof liveEventSchema>;
