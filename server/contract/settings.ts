/** Settings that are edited on the page, limits, people, diagnostics and the state of the server. */
import * as z from 'zod';
import { idText, isoTime, listOf, nameText, urgencySchema } from './common.ts';

const displaySchema = z.object({
  temperature: z.enum(['C', 'F']).default('C'),
  weight: z.enum(['kg', 'lb']).default('kg'),
  hours: z.literal([12, 24]).default(24),
  dateOrder: z.enum(['day-month', 'month-day']).default('day-month'),
});
const quietHoursSchema = z.object({
  from: z
    .string()
    .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'HH:MM')
    .default('22:00'),
  to: z
    .string()
    .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'HH:MM')
    .default('06:30'),
  timeZone: z.string().default('UTC'),
});
const channelKinds = ['mail', 'webhook', 'mqtt', 'browser', 'push'] as const;
/** A way to tell somebody. Secrets go in and never come out: they read back as "set". */
export const tellingSchema = z.object({
  id: idText,
  name: nameText,
  kind: z.enum(channelKinds),
  enabled: z.boolean().default(true),
  urgencies: z.array(urgencySchema).default(['now', 'today']),
  address: z
    .string()
    .max(2000)
    .default('')
    .describe('push: the endpoint of the browser’s subscription (RFC 8030); shown by its host alone'),
  secret: z
    .string()
    .max(2000)
    .optional()
    .describe('push: p256dh and auth of the subscription in base64url, joined by a full stop'),
  quietHours: quietHoursSchema.optional(),
  digestAt: z
    .string()
    .regex(/^([01]\d|2[0-3]):[0-5]\d$/)
    .optional(),
  endedAt: isoTime
    .optional()
    .describe('push: since when the device takes no messages; written by the server'),
});
export type Telling = z.infer<typeof tellingSchema>;
export const tellingSavedSchema = tellingSchema.extend({
  secretDropped: z
    .boolean()
    .optional()
    .describe('True: the stored secret was for another kind, host, port or user, and was deleted'),
});
export const tellingsSchema = listOf(tellingSchema);
export const pushKeySchema = z.object({
  publicKey: z.string().describe('An uncompressed point of P-256 in base64url: the applicationServerKey'),
});
export const tellingTriedSchema = z.object({ ok: z.boolean(), detail: z.string() });

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

export const personInputSchema = z.object({
  name: nameText,
  role: z.enum(['keeper', 'helper', 'viewer']),
  password: z.string().min(10, 'at least 10 characters').max(200),
});
const setupCodeText = z
  .string()
  .max(40)
  .optional()
  .describe('Before there is a password: the code that the server printed when it started');
export const firstPasswordSchema = personInputSchema.omit({ role: true }).extend({ code: setupCodeText });
export const passwordChangeSchema = z.object({
  current: z.string().max(200),
  password: personInputSchema.shape.password,
  keepTokens: z.boolean().default(false).describe('Leaves the person’s API tokens valid'),
});
export const personSchema = z.object({
  id: idText,
  name: nameText,
  role: z.enum(['keeper', 'helper', 'viewer']),
  createdAt: isoTime,
});
export const peopleSchema = listOf(personSchema);
export const signInSchema = z.object({ name: nameText, password: z.string().max(200) });
export const tokenInputSchema = z.object({ name: nameText, scope: z.enum(['read', 'log', 'all']) });
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

export const statusSchema = z.object({
  ready: z.boolean(),
  why: z.string().optional(),
  version: z.string(),
  startedAt: isoTime,
  broker: z.object({
    kind: z.enum(['embedded', 'outside']),
    connected: z.boolean(),
    address: z.string(),
    detail: z.string(),
  }),
  store: z.object({
    ok: z.boolean(),
    detail: z.string(),
    bytes: z.number(),
    writtenTodayBytes: z.number(),
    readings: z.number(),
    bytesPerYear: z.number().nullable(),
    freeBytes: z.number().nullable(),
  }),
  ingest: z.object({
    received: z.number(),
    stored: z.number(),
    duplicates: z.number(),
    conflicts: z.number(),
    quarantined: z.number(),
  }),
  memoryBytes: z.number(),
  lastBackup: z.object({ at: isoTime, file: z.string(), verified: z.boolean() }).nullable(),
  lastEvaluation: z.object({ at: isoTime, ms: z.number() }).nullable(),
  newestReadingAt: isoTime.nullable().optional().describe('When the newest reading of any sensor was taken'),
  heartbeat: z
    .object({ sentAt: isoTime.nullable(), problem: z.string().nullable() })
    .nullable()
    .optional()
    .describe('Calls to the monitoring service since the start; null where no address is set'),
  memoryHigh: z.boolean().optional().describe('More memory than is usual for 500 nucs'),
  /** Site by site: of an address that is set the host, or the topic on which one was published. */
  forecasts: z.array(
    z.object({ site: z.string(), host: z.string(), at: isoTime.nullable(), problem: z.string().nullable() }),
  ),
  /** Stored rows that can't be read and are not used: of which kind, and which. */
  unreadable: z.array(z.object({ what: z.string(), id: z.string() })),
  /** What could not be told so far: it is tried again, or was given up in the last week. */
  untold: z.array(
    z.object({
      to: z.string(),
      since: isoTime,
      tries: z.number().int(),
      problem: z.string(),
      gaveUp: z.boolean().optional().describe('It is not tried again'),
      what: z.string().optional().describe('The alerts in it, in a line'),
    }),
  ),
  /** Stored settings that can’t be read. */
  settingFaults: z.array(settingFaultSchema).optional(),
});
export type Status = z.infer<typeof statusSchema>;
export const backupMadeSchema = z.object({
  file: z.string(),
  bytes: z.number(),
  verified: z.boolean(),
  at: isoTime,
});
export const auditSchema = listOf(z.object({ at: isoTime, who: z.string(), what: z.string() }));

export const restorableSchema = z.object({
  /** Whether this server is empty, so that nothing can be overwritten. */
  possible: z.boolean(),
  why: z.string().optional(),
  folder: z.string(),
  items: z.array(z.object({ file: z.string(), bytes: z.number(), at: isoTime })),
});
/** What a backup would bring with it; of addresses that may hold a secret, the host. */
export const backupSummarySchema = z.object({
  file: z.string(),
  bytes: z.number(),
  /** 'digest': nothing in it has changed. 'rows': it carries no digest, so that each row was read instead. */
  verified: z.enum(['digest', 'rows']),
  sites: z.array(z.string()),
  nucs: z.number().int(),
  people: z.array(
    z.object({ name: z.string(), role: z.enum(['keeper', 'helper', 'viewer']), canSignIn: z.boolean() }),
  ),
  /** Devices that may publish readings. */
  devices: z.array(z.string()),
  notifications: z.array(
    z.object({ name: z.string(), kind: z.enum(channelKinds), enabled: z.boolean(), address: z.string() }),
  ),
  heartbeat: z.string(),
  forecast: z.string(),
  backupFolder: z.string(),
  /** How many end with the restore. */
  sessions: z.number().int(),
  tokens: z.number().int(),
});
export type BackupSummary = z.infer<typeof backupSummarySchema>;
export const restoreInputSchema = z.object({ file: z.string().min(1).max(200), code: setupCodeText });
