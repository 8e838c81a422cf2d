/** What a nuc that wants a queen can do until she comes. */
import * as z from 'zod';
import { localDate } from './common.ts';

const lateChoiceSchema = z.object({
  kind: z.enum([
    'move-split',
    'wait',
    'look-again',
    'test-frame',
    'brood-frame',
    'sealed-brood',
    'start-anew',
  ]),
  fits: z.boolean().describe('Whether it goes together with the day on which the queen comes'),
  on: localDate.nullable(),
  text: z.string(),
});
export const waitingSchema = z.object({
  comesOn: localDate.nullable().describe('The day on which a queen is expected for it'),
  waitsUntil: localDate.nullable().describe('Null where nothing presses or nothing is known'),
  late: z.boolean(),
  choices: z
    .array(lateChoiceSchema)
    .describe('In the order in which to think of them; the first that fits is the one'),
});
export type Waiting = z.infer<typeof waitingSchema>;
