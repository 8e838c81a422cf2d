/** Who is signed in, the first password, signing in. */
import * as z from 'zod';
import { personInputSchema } from './people.ts';
import { farmSettingsSchema, settingFaultSchema } from './settings.ts';
import { isoTime, nameText } from './common.ts';

export const setupCodeText = z
  .string()
  .max(40)
  .optional()
  .describe('Before there is a password: the code that the server printed when it started');
export const firstPasswordSchema = personInputSchema.omit({ role: true }).extend({ code: setupCodeText });
export const passwordChangeSchema = z.object({
  current: z.string().max(200),
  password: personInputSchema.shape.password,
  keepTokens: z.boolean().default(false).describe('Leaves the person’s API keys valid'),
});
export const signInSchema = z.object({ name: nameText, password: z.string().max(200) });
export const meSchema = z.object({
  signedIn: z.boolean(),
  /** False on a new server: only this machine and devices at home are served until someone sets a password. */
  passwordSet: z.boolean(),
  name: z.string().nullable(),
  role: z.enum(['keeper', 'helper', 'viewer']).nullable(),
  csrf: z.string().nullable(),
  demo: z.boolean(),
  farm: farmSettingsSchema,
  setUp: z.object({
    password: z.boolean(),
    site: z.boolean(),
    sensor: z.boolean(),
    nuc: z.boolean(),
    split: z.boolean(),
  }),
  /** How many stored rows can't be read and are not used; 0 for who is not signed in. */
  unreadable: z.number().int(),
  serverTime: isoTime,
  version: z.string(),
  /** Stored settings that can’t be read; told to those who are signed in. */
  settingFaults: z.array(settingFaultSchema).optional(),
  withoutCode: z
    .object({ open: z.boolean(), minutes: z.int() })
    .optional()
    .describe(
      'Before there is a password, where allowed: whether this device needs no setup code now; minutes after a start',
    ),
});
export type Me = z.infer<typeof meSchema>;
