/** State of the server, backup and restore. */
import * as z from 'zod';
import { setupCodeText } from './account.ts';
import { channelKinds } from './notifications.ts';
import { settingFaultSchema } from './settings.ts';
import { isoTime } from './common.ts';

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
export const restorableSchema = z.object({
  /** Whether this server is empty, so that nothing can be overwritten. */
  possible: z.boolean(),
  why: z.string().optional(),
  folder: z.string(),
  problem: z.string().optional().describe('Why the folder can’t be read; then no backup in it is listed'),
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
