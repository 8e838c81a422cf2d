/** People, their API tokens, and who did what. */
import * as z from 'zod';
import { idText, isoTime, listOf, nameText } from './common.ts';

export const personInputSchema = z.object({
  name: nameText,
  role: z.enum(['keeper', 'helper', 'viewer']),
  password: z.string().min(10, 'at least 10 characters').max(200),
});
export const personSchema = z.object({
  id: idText,
  name: nameText,
  role: z.enum(['keeper', 'helper', 'viewer']),
  createdAt: isoTime,
});
export const peopleSchema = listOf(personSchema);
export const tokenInputSchema = z.object({
  id: idText
    .optional()
    .describe(
      'Made by the client: the same key sent twice is made once, and the secret of the last answer holds',
    ),
  name: nameText,
  scope: z.enum(['read', 'log', 'all']),
});
export const tokensSchema = listOf(
  z.object({
    id: idText,
    name: nameText,
    scope: z.enum(['read', 'log', 'all']),
    owner: z.string().describe('Name of the person who made it'),
    createdAt: isoTime,
    lastUsedAt: isoTime.nullable(),
  }),
);
export const tokenCreatedSchema = z.object({ id: idText, token: z.string().describe('Shown this once') });

export const auditSchema = listOf(z.object({ at: isoTime, who: z.string(), what: z.string() }));
