/** Which channel the readings of a CSV file belong to. */
import * as z from 'zod';
import { quantities } from '../../units.ts';

export const csvTarget = z.object({
  sensor: z.string().min(1).max(200),
  quantity: z.enum(quantities),
  probe: z.string().max(200).default(''),
  unit: z.string().max(20).optional().describe('Of the values; a column `unit` goes before it'),
});
export type CsvTarget = z.output<typeof csvTarget>;
