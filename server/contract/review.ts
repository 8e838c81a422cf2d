/** Looking back: after release, a batch against its own band, outcomes by group. */
import * as z from 'zod';
import { outcomes } from '../introduction/log/facts.ts';
import { idText, isoTime, subjectKinds } from './common.ts';

export const reviewQuerySchema = z.object({
  batch: z.string().optional(),
  alignedOn: z.enum(['split', 'release']).default('split'),
  quantity: z.enum(['night-weight', 'brood-temperature', 'brood-spread']).default('brood-temperature'),
});
export const batchReviewSchema = z.object({
  batches: z.array(z.string()),
  batch: z.string().optional().describe('The one that is shown: without a question the last that is over'),
  unit: z.string(),
  days: z.array(z.number()),
  /** 10th, 50th and 90th percentile of the batch per day; null where too few nucs. */
  band: z.array(z.object({ low: z.number(), middle: z.number(), high: z.number() }).nullable()),
  nucs: z.array(
    z.object({
      id: idText,
      name: z.string(),
      values: z.array(z.number().nullable()),
      outsideSinceDay: z.number().nullable(),
      outcome: z
        .enum(outcomes)
        .nullable()
        .optional()
        .describe('As logged; null while its introduction is under way'),
      earlier: z
        .array(z.enum(outcomes))
        .optional()
        .describe('Outcomes of its introductions before this one, oldest first'),
      grafted: z.array(z.string()).optional().describe('Days on which larvae of its queen were grafted'),
      text: z.string(),
    }),
  ),
  summary: z.string(),
});
export type BatchReview = z.infer<typeof batchReviewSchema>;

export const outcomesQuerySchema = z.object({
  by: z.enum(['source', 'method', 'strength', 'season', 'starting-point']).default('source'),
});
export const outcomesSchema = z.object({
  items: z.array(
    z.object({
      group: z.string(),
      accepted: z.number().int(),
      lost: z.number().int(),
      open: z.number().int(),
      share: z.number().nullable(),
      low: z.number().nullable(),
      high: z.number().nullable(),
    }),
  ),
  text: z.string(),
  comparison: z.object({ p: z.number(), text: z.string() }).nullable(),
});
export type Outcomes = z.infer<typeof outcomesSchema>;

export const replayInputSchema = z.object({
  nucId: idText,
  from: isoTime,
  to: isoTime,
  limits: z.record(z.string(), z.record(z.string(), z.number())).default({}),
});
/** The nuc itself, or the sensor in or under it. */
const replayedSubjectSchema = z.object({ kind: z.enum(subjectKinds), id: z.string(), name: z.string() });
export const replaySchema = z.object({
  items: z.array(
    z.object({
      ruleId: z.string(),
      subject: replayedSubjectSchema,
      title: z.string(),
      raisedAt: isoTime,
      clearedAt: isoTime.nullable(),
      reallyRaised: z.boolean(),
      text: z.string(),
    }),
  ),
  onlyReally: z.array(z.object({ ruleId: z.string(), subject: replayedSubjectSchema, raisedAt: isoTime })),
  ticks: z.number().int(),
});
