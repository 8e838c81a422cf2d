/** What a schema finds wrong reads as a keeper or a programmer would say it, whatever the schema. */
import { expect, it } from 'vitest';
import * as z from 'zod';
import { faultInWords } from '../../server/words/faults.ts';

it.each([
  { schema: z.string(), value: undefined, words: 'it is missing; a text is wanted' },
  { schema: z.number(), value: 'cold', words: 'a number is wanted, not a text' },
  { schema: z.number(), value: null, words: 'a number is wanted, not null' },
  { schema: z.coerce.number(), value: 'many', words: 'a number is wanted' },
  { schema: z.int(), value: 2.5, words: 'a whole number is wanted' },
  { schema: z.boolean(), value: 'yes', words: 'true or false is wanted, not a text' },
  { schema: z.array(z.string()), value: {}, words: 'a list is wanted, not an object' },
  { schema: z.object({}), value: [], words: 'an object is wanted, not a list' },
  { schema: z.string().min(1), value: '', words: 'at least 1 character wanted' },
  { schema: z.string().max(3), value: 'four', words: 'at most 3 characters wanted' },
  { schema: z.array(z.number()).min(2), value: [1], words: 'at least 2 entries wanted' },
  { schema: z.number().max(90), value: 91, words: 'at most 90 wanted' },
  { schema: z.number().positive(), value: 0, words: 'more than 0 is wanted' },
  { schema: z.number().lt(1), value: 1, words: 'less than 1 is wanted' },
  { schema: z.number().multipleOf(0.25), value: 0.3, words: 'a multiple of 0.25 is wanted' },
  { schema: z.iso.datetime(), value: 'noon', words: 'a time such as 2026-05-14T06:00:00Z is wanted' },
  { schema: z.iso.date(), value: 'noon', words: 'a day such as 2026-05-14 is wanted' },
  { schema: z.strictObject({}), value: { hue: 1, b: 2 }, words: 'not known here: hue, b' },
  { schema: z.enum(['C', 'F']), value: 'K', words: 'one of these is wanted: C, F' },
  { schema: z.enum(['C', 'F']), value: undefined, words: 'it is missing; wanted: C, F' },
  { schema: z.literal(1), value: 2, words: '1 is wanted' },
  { schema: z.union([z.string(), z.number()]), value: true, words: 'it is of no kind that is known' },
  { schema: z.number('give the weight'), value: 'x', words: 'give the weight' },
])('$words', ({ schema, value, words }) => {
  const read = schema.safeParse(value, { error: faultInWords });
  expect(read.error?.issues[0]?.message).toBe(words);
});
