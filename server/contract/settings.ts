/** Farm settings, stored settings that can’t be read, and the limits of the rules. */
import * as z from 'zod';
import { idText, isoTime, listOf } from './common.ts';

const displaySchema = z.object({
  temperature: z.enum(['C', 'F']).default('C'),
  weight: z.enum(['kg', 'lb']).default('kg'),
  hours: z.literal([12, 24]).default(24),
  dateOrder: z.enum(['day-month', 'month-day']).default('day-month'),
});
export const farmSettingsSchema = z.object({
  farmName: z.string().max(120).default(''),
  display: displaySchema.prefault({}),
  standingCellLimit: z
    .number()
    .min(0.005)
    .max(0.5)
    .default(0.05)
    .describe('Highest chance of a standing cell at which the candy end may be opened'),
  historyStepMinutes: z
    .int()
    .min(1)
    .max(60)
    .default(10)
    .describe('How closely rules are evaluated over the past, for a replay and for late readings, minutes'),
  forecastUrl: z
    .string()
    .max(2000)
    .default('')
    .describe(
      'JSON array of hours {time, temperature °C, wind m/s, rain mm, cloud 0..1}; {lat} and {lon} stand for the site',
    ),
  heartbeatUrl: z.string().max(2000).default(''),
  publicAddress: z
    .union([z.literal(''), z.url({ protocol: /^https?$/ }).max(2000)])
    .default('')
    .describe('Where people open this page, for the links in mails and webhooks; empty: no links'),
  backupFolder: z.string().max(1000).default(''),
  backupKeep: z.number().int().min(1).max(365).default(14),
  rawKeepDays: z.number().int().min(30).max(36500).default(1825),
});
export type FarmSettings = z.infer<typeof farmSettingsSchema>;
export type FarmKey = keyof FarmSettings;
export const farmPutSchema = farmSettingsSchema.extend({
  putRight: z
    .array(farmSettingsSchema.keyof())
    .default([])
    .describe(
      'Settings whose stored value can’t be read and is replaced by the given one; the others keep it',
    ),
  read: farmSettingsSchema
    .optional()
    .describe(
      'As they were read before: only what differs from them is changed. `conflict` says where somebody else changed the same since',
    ),
});

export const settingFaultSchema = z.object({
  name: z.string().describe('As it is stored: farm.rawKeepDays, telling/…, rule limits.farm.…'),
  problem: z.string(),
  effect: z.string().describe('What the server does, or leaves, until it is put right'),
  stored: z.string().optional().describe('Its text, at most 200 characters; never one that may be a secret'),
});
export type SettingFault = z.infer<typeof settingFaultSchema>;

const limitSchema = z.object({
  ruleId: z.string(),
  title: z.string(),
  about: z.string(),
  fields: z.array(
    z.object({
      name: z.string(),
      about: z.string(),
      unit: z.string(),
      value: z.number(),
      standard: z.number(),
      min: z.number(),
      max: z.number(),
      setAt: z.enum(['standard', 'farm', 'site', 'nuc']),
    }),
  ),
});
export const limitsSchema = listOf(limitSchema);
export const limitsQuerySchema = z.object({ site: idText.optional(), nuc: idText.optional() });
export const limitPutSchema = z.object({
  scope: z.enum(['farm', 'site', 'nuc']),
  scopeId: idText.optional(),
  ruleId: z.string(),
  field: z.string(),
  value: z.number().nullable(),
});
export const changesSchema = listOf(z.object({ at: isoTime, by: z.string(), what: z.string() }));
