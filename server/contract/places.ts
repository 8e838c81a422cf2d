/** Sites, hives (nucs and parent colonies) and which channel stands where, from when to when. */
import * as z from 'zod';
import { hiveVisitKinds } from '../introduction/log/hive-visit.ts';
import { idText, isoTime, listOf, nameText, placeSchema, zoneText } from './common.ts';

export const siteInputSchema = z.object({
  name: nameText,
  timeZone: zoneText,
  latDeg: z.number().min(-90).max(90),
  lonDeg: z.number().min(-180).max(180),
  note: z.string().max(2000).optional(),
});
export const siteSchema = siteInputSchema.extend({ id: idText });
export type Site = z.infer<typeof siteSchema>;
export const sitesSchema = listOf(siteSchema);

export const boxKinds = ['wood', 'polystyrene', 'other'] as const;
export const hiveInputSchema = z.object({
  name: nameText,
  siteId: idText,
  role: z.enum(['nuc', 'parent']).default('nuc'),
  parentHiveId: idText.optional(),
  batch: z.string().max(60).optional(),
  box: z.enum(boxKinds).default('wood'),
  /** Mass of the empty box with its frames and floor, kg: without it stores can't be told from wood. */
  emptyKg: z.number().min(0).max(60).optional(),
  note: z.string().max(2000).optional(),
});
/** What is left out stays as it is: no defaults here. */
export const hivePatchSchema = hiveInputSchema.partial().extend({
  role: z.enum(['nuc', 'parent']).optional(),
  box: z.enum(boxKinds).optional(),
  retired: z.boolean().optional(),
});
export const hiveSchema = hiveInputSchema.extend({
  id: idText,
  createdAt: isoTime,
  retiredAt: isoTime.optional(),
});
export type Hive = z.infer<typeof hiveSchema>;

export const hiveVisitInputSchema = z.object({
  id: idText.optional().describe('Made by the client, so that the same visit sent twice is stored once'),
  kind: z.enum(hiveVisitKinds).describe('What was done'),
  happenedAt: isoTime.optional().describe('Now, where it is left out'),
  note: z.string().trim().min(1).max(4000).optional(),
});
export const hiveVisitSchema = hiveVisitInputSchema.extend({
  id: idText,
  hiveId: idText,
  happenedAt: isoTime,
  writtenAt: isoTime,
  by: z.string().optional(),
  withdrawn: z.boolean().describe('It did not happen after all'),
});
export type HiveVisit = z.infer<typeof hiveVisitSchema>;
export const hiveVisitsSchema = listOf(hiveVisitSchema);

export const assignmentInputSchema = z
  .object({
    channelId: z.number().int().positive(),
    hiveId: idText.optional(),
    siteId: idText.optional(),
    place: placeSchema,
    from: isoTime,
    to: isoTime.optional(),
    takesOver: z
      .boolean()
      .default(false)
      .describe(
        'Ends, where it begins, what still stands in its way: the channel elsewhere, others at the place',
      ),
  })
  .refine((a) => (a.hiveId === undefined) !== (a.siteId === undefined), 'name either a hive or a site');
export const assignmentSchema = z.object({
  id: z.number().int(),
  channelId: z.number().int(),
  hiveId: idText.optional(),
  siteId: idText.optional(),
  place: placeSchema,
  from: isoTime,
  to: isoTime.optional(),
});
export type Assignment = z.infer<typeof assignmentSchema>;
export const assignmentPatchSchema = z.object({
  from: isoTime.optional(),
  to: isoTime.nullable().optional(),
});
