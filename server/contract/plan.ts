/** Queens on order, the work list, batches and what moving a date would do. */
import * as z from 'zod';
import { introductionMethods, startingPoints } from '../introduction/log/facts.ts';
import { idText, listOf, localDate, nameText } from './common.ts';
import { planStepSchema } from './nucs.ts';
import { waitingSchema } from './waiting.ts';

export const arrivalInputSchema = z.object({
  id: idText.optional(),
  name: nameText.describe('What the keeper calls this delivery'),
  source: z.string().max(120).describe('Breeder or line, in the keeper’s words'),
  expected: localDate,
  queens: z.number().int().min(1).max(500),
  state: z.enum(['ordered', 'delayed', 'arrived', 'cancelled']).default('ordered'),
  arrived: localDate.optional(),
  dead: z.number().int().min(0).default(0),
  note: z.string().max(2000).optional(),
});
export const arrivalSchema = arrivalInputSchema.extend({ id: idText, assigned: z.number().int() });
export type Arrival = z.infer<typeof arrivalSchema>;
export const arrivalsSchema = listOf(arrivalSchema);

export const planQuerySchema = z.object({
  from: localDate.optional(),
  to: localDate.optional(),
  back: z.coerce
    .number()
    .int()
    .min(0)
    .max(366)
    .optional()
    .describe('No earlier than so many days before today at the site, by the server’s clock'),
  ahead: z.coerce
    .number()
    .int()
    .min(0)
    .max(366)
    .optional()
    .describe('No later than so many days after today at the site'),
  site: idText.optional(),
});
const planDaySchema = z.object({
  date: localDate,
  siteId: idText,
  siteName: z.string(),
  steps: z.array(planStepSchema),
  bring: z.array(z.string()),
  clashes: z.array(z.string()),
});
export const planSchema = z.object({ items: z.array(planDaySchema), unavailable: z.array(localDate) });
export type PlanDto = z.infer<typeof planSchema>;

/** Setting. */
export const mostNucsOfBatch = 100;
export const batchInputSchema = z.object({
  name: nameText,
  siteId: idText,
  nucs: z.number().int().min(1).max(mostNucsOfBatch),
  namePrefix: z.string().trim().min(1).max(60),
  startingPoint: z.enum(startingPoints).default('planned-split'),
  method: z.enum(introductionMethods).default('candy-cage'),
  arrivalId: idText.optional(),
  /** One of the two: plan back from the delivery, or forward from the split. */
  by: z.enum(['arrival', 'split']),
  splitOn: localDate.optional(),
  planned: z.boolean().optional().describe('The nucs are planned for the delivery already'),
});
/** Its nucs are numbered by it, so it is shorter than another id. */
const batchIdText = idText.min(8).max(56);
export const batchCreateSchema = batchInputSchema.extend({
  id: batchIdText
    .optional()
    .describe('Made by the client, so that the same batch sent twice is planned once'),
});
export const batchPreviewSchema = z.object({
  splitOn: localDate,
  names: z
    .array(z.string())
    .optional()
    .describe('What the nucs will be called: numbers go on after those that are there'),
  steps: z.array(
    z.object({
      kind: z.string(),
      label: z.string(),
      earliest: localDate,
      target: localDate,
      latest: localDate,
      why: z.array(z.string()),
    }),
  ),
  clashes: z.array(z.string()),
});
export type BatchPreview = z.infer<typeof batchPreviewSchema>;
export const batchCreatedSchema = z.object({ nucIds: z.array(idText), preview: batchPreviewSchema });

export const batchUndoSchema = z.object({ nucIds: z.array(idText).min(1).max(100) });
export const batchUndoneSchema = z.object({ removed: z.number().int().describe('Nucs that were there') });

export const queensQuerySchema = z
  .object({
    arrival: idText.optional(),
    expected: localDate.optional().describe('What if this delivery came on that day'),
  })
  .refine(
    (q) => (q.arrival === undefined) === (q.expected === undefined),
    'name a delivery and its day, or neither',
  );
const nucForQueenSchema = waitingSchema.extend({
  nucId: idText,
  nucName: z.string(),
  siteName: z.string(),
  introductionId: idText,
  order: z.number().int().nullable().describe('1 is served first; null goes without'),
  hangOn: localDate.nullable(),
  why: z.string(),
  splitOn: localDate.nullable(),
  splitMade: z.boolean(),
  splitFollows: z.boolean().describe('Its split moves with the delivery'),
  spare: z
    .array(z.object({ arrivalId: idText, name: z.string(), queens: z.int() }))
    .optional()
    .describe('For a nuc that goes without: deliveries that are here and have queens over'),
});
export type NucForQueen = z.infer<typeof nucForQueenSchema>;
const queensForNucsSchema = z.object({
  /** Null: nucs that are planned for no delivery. */
  arrivalId: idText.nullable(),
  name: z.string(),
  comesOn: localDate.nullable(),
  living: z.number().int().describe('Queens that live and hang in no nuc'),
  over: z.number().int().describe('Of these, those that no nuc waits for'),
  advice: z.array(z.string()),
  nucs: z.array(nucForQueenSchema),
});
export type QueensForNucs = z.infer<typeof queensForNucsSchema>;
export const queensSchema = listOf(queensForNucsSchema);

export const unavailableSchema = z.object({ days: z.array(localDate).max(400) });
export const calendarLinkSchema = z.object({ path: z.string(), person: z.string() });
