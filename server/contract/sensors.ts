/** Channels, readings, quarantine, mappings and the devices that may publish. */
import * as z from 'zod';
import { quantities } from '../units.ts';
import type { placeSchema } from './common.ts';
import { idText, isoTime, latestSchema, listOf, nameText } from './common.ts';
import { assignmentSchema } from './places.ts';

export const channelSchema = z.object({
  id: z.number().int(),
  sensor: z.string(),
  name: z
    .string()
    .nullable()
    .describe('What the sensor is called in what it sends; null where it sends no name'),
  quantity: z.enum(quantities),
  probe: z.string().describe('Which of several probes of one quantity; empty for the only one'),
  unit: z.string(),
  latest: latestSchema.nullable(),
  firstTime: isoTime.nullable(),
  /** Learned from its own rhythm. */
  expectedIntervalS: z.number().nullable(),
  health: z.enum(['fresh', 'late', 'silent', 'new']),
  healthText: z.string(),
  suspects24h: z.number().int(),
  rawCounts: z
    .number()
    .nullable()
    .describe('Its newest reading as the scale sent it, while that is no weight for want of a calibration'),
  readings: z.number().int(),
  assignment: assignmentSchema.extend({ ownerName: z.string() }).nullable(),
});
export type Channel = z.infer<typeof channelSchema>;
export const channelsSchema = listOf(channelSchema);

/** All or none. */
export const forgetChannelsSchema = z.object({
  ids: z.array(z.number().int()).min(1).max(10_000),
  evenAssigned: z
    .boolean()
    .default(false)
    .describe(
      'Also one that stands at a place or stood there: the place loses its readings. Otherwise that is refused (409)',
    ),
});
export const forgottenChannelsSchema = z.object({
  forgotten: z.number().int().describe('Less than asked for where some were gone already'),
});

export const readingsQuerySchema = z.object({
  from: isoTime.optional(),
  to: isoTime.optional(),
  resolution: z.enum(['raw', 'hour', 'day', 'auto']).default('auto'),
  limit: z.coerce.number().int().min(1).max(100_000).default(5000),
  suspect: z.stringbool().default(false).describe('Also readings flagged as suspect (raw only)'),
  calibrated: z.stringbool().default(true),
});
const readingSchema = z.object({
  time: isoTime,
  value: z.number(),
  min: z.number().optional(),
  max: z.number().optional(),
  count: z.number().int().optional(),
  suspect: z.string().optional(),
});
export const readingsSchema = z.object({
  items: z.array(readingSchema),
  unit: z.string(),
  resolution: z.enum(['raw', 'hour', 'day']),
  /** True where the limit cut the answer; ask again from the last time on. */
  more: z.boolean(),
});

/** Setting: larger is no reading of a sensor, and sums of it have no end. */
const largest = 1e12;
const figure = z.number().min(-largest).max(largest);
export const calibrationInputSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('offset'), from: isoTime, add: figure }),
  z.object({ kind: z.literal('scale'), from: isoTime, factor: figure.positive() }),
  /** The raw reading with nothing on, and with a known weight on. */
  z.object({
    kind: z.literal('two-point'),
    from: isoTime,
    rawLow: figure,
    trueLow: figure,
    rawHigh: figure,
    trueHigh: figure,
  }),
  z.object({ kind: z.literal('tare'), from: isoTime, rawNow: figure }),
]);
export const calibrationSchema = z.object({
  id: z.number().int(),
  channelId: z.number().int(),
  from: isoTime,
  fact: calibrationInputSchema,
  writtenAt: isoTime,
});
export const calibrationsSchema = listOf(calibrationSchema);

export const quarantinedSchema = z.object({
  id: z.number().int(),
  topic: z.string(),
  payloadText: z.string(),
  payloadBytes: z.number().int(),
  reason: z.string(),
  receivedAt: isoTime,
  times: z.number().int().describe('How often this topic came with this reason'),
});
export type Quarantined = z.infer<typeof quarantinedSchema>;
export const quarantineSchema = listOf(quarantinedSchema).extend({
  mostATopic: z.int().describe('So many of one topic are kept, the newest'),
  most: z.int().describe('So many in all'),
});

/** The mapping itself is checked by ingest's own schema; on the wire it is plain JSON. */
export const mappingSchema = z.object({
  id: idText,
  name: nameText,
  enabled: z.boolean().default(true),
  mapping: z.record(z.string(), z.unknown()),
});
export type MappingDto = z.infer<typeof mappingSchema>;
export const mappingsSchema = listOf(mappingSchema);
/** Checked by ingest's own schema, too. */
export const mappingFileSchema = z.object({
  format: z.string(),
  version: z.number(),
  mappings: z.array(z.record(z.string(), z.unknown())).max(1000),
});
export const mappingsTakenInSchema = z.object({
  added: z.number().int(),
  already: z.number().int().describe('Were there, word for word, and were left as they are'),
});
export const mappingTrySchema = z.object({
  mapping: z.record(z.string(), z.unknown()),
  topic: z.string().min(1).max(1000),
  payload: z.string().max(64_000),
});
export const mappingTriedSchema = z.object({
  ok: z.boolean(),
  reason: z.string().optional(),
  readings: z.array(
    z.object({
      sensor: z.string(),
      quantity: z.enum(quantities),
      probe: z.string(),
      value: z.number(),
      unit: z.string(),
      time: isoTime,
      note: z.string().optional(),
    }),
  ),
});

/** A name is a level of the device's topics: no separator, no wildcard, nothing of a broker's own (MQTT 3.1.1 §4.7). */
const deviceNameText = nameText.regex(/^[^+#/$\p{Cc}]*$/u, 'no +, #, /, $ or control characters');

export const deviceInputSchema = z.object({
  name: deviceNameText,
  password: z.string().min(8, 'at least 8 characters').max(200),
  ownTopicsOnly: z.boolean().default(true),
});
export const deviceSchema = z.object({
  name: nameText,
  ownTopicsOnly: z.boolean(),
  createdAt: isoTime,
  lastSeenAt: isoTime.nullable(),
});
export const devicesSchema = listOf(deviceSchema);

/** As what a channel of each quantity can be assigned. */
export const assignablePlacesByQuantity: Readonly<
  Record<(typeof quantities)[number], readonly z.infer<typeof placeSchema>[]>
> = {
  weight: ['scale'],
  temperature: ['brood', 'cage', 'outside'],
  humidity: ['humidity'],
  battery: ['battery'],
  rain: ['rain'],
};
