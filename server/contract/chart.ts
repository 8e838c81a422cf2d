/** What the chart of a nuc draws, evidence included. */
import * as z from 'zod';
import { isoTime, placeSchema, urgencySchema } from './common.ts';

export const chartQuerySchema = z.object({
  from: isoTime.optional(),
  to: isoTime.optional(),
  pixels: z.coerce.number().int().min(100).max(4000).default(800),
  suspect: z.stringbool().default(false),
});
/** [ms since 1970, value] or, where buckets were needed, [ms, mean, min, max]; a null value is a gap. */
const point = z.array(z.number().nullable()).min(2).max(4);
export const chartSchema = z.object({
  from: isoTime,
  to: isoTime,
  timeZone: z.string(),
  series: z.array(
    z.object({
      place: placeSchema,
      unit: z.string(),
      label: z.string(),
      points: z.array(point),
      suspects: z.array(point),
    }),
  ),
  nights: z.array(
    z.object({ from: isoTime, to: isoTime, levelKg: z.number(), slopeGPerH: z.number(), text: z.string() }),
  ),
  steps: z.array(z.object({ at: isoTime, sizeKg: z.number(), kind: z.string(), text: z.string() })),
  departures: z.array(
    z.object({
      departure: isoTime.nullable(),
      lowest: isoTime.nullable(),
      return: isoTime.nullable(),
      depthG: z.number().nullable(),
    }),
  ),
  /** Mass of the foragers that have left by then, with its interval. */
  driftCurve: z.array(z.object({ at: isoTime, kg: z.number(), lowKg: z.number(), highKg: z.number() })),
  band: z.array(
    z.object({ from: isoTime, to: isoTime, lowC: z.number(), highC: z.number(), text: z.string() }),
  ),
  outlook: z
    .object({ at: isoTime, minC: z.number(), lowC: z.number(), highC: z.number(), text: z.string() })
    .nullable(),
  visits: z.array(z.object({ at: isoTime, text: z.string() })),
  alerts: z.array(
    z.object({ from: isoTime, to: isoTime.nullable(), urgency: urgencySchema, text: z.string() }),
  ),
  notes: z.array(z.object({ at: isoTime, text: z.string() })),
  summaries: z.object({ weight: z.string(), temperature: z.string() }),
});
export type ChartDto = z.infer<typeof chartSchema>;
