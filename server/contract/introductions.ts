/** Opening and changing an introduction, and writing into its field log. */
import * as z from 'zod';
import { introductionMethods, logEntrySchema, startingPoints } from '../introduction/log/facts.ts';
import { idText, isoTime, localDate } from './common.ts';

export const introductionInputSchema = z.object({
  id: idText
    .optional()
    .describe('Made by the client so that the same form sent twice opens one introduction'),
  startingPoint: z.enum(startingPoints),
  method: z.enum(introductionMethods),
  queenId: idText.optional(),
  plannedSplit: isoTime.optional(),
  arrivalId: idText.optional().describe('The delivery that its queen comes with'),
  openedAt: isoTime
    .optional()
    .describe(
      'When it really began, for one that is entered while it is under way; now, where it is left out',
    ),
});
export const introductionSchema = introductionInputSchema.extend({
  id: idText,
  nucId: idText,
  openedAt: isoTime,
  closedAt: isoTime.optional(),
});
export const introductionPatchSchema = z
  .object({
    plannedSplit: localDate.nullable().optional().describe('Null: it follows the delivery'),
    arrivalId: idText.nullable().optional().describe('Null: no delivery'),
    calledOff: z.literal(true).optional().describe('The split is not going to be made'),
    reason: z.string().trim().max(500).optional(),
  })
  .strict()
  .refine(
    ({ plannedSplit, arrivalId, calledOff }) =>
      (calledOff === true) !== (plannedSplit !== undefined || arrivalId !== undefined),
    'either name a day of the split or a delivery, or call it off',
  );

export const logPostSchema = z.object({ entries: z.array(logEntrySchema).min(1).max(200) });
export const logPostedSchema = z.object({
  items: z.array(
    z.object({
      id: z.string(),
      result: z.enum(['stored', 'already-there', 'refused']),
      problems: z.array(z.string()),
    }),
  ),
});
