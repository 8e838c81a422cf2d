/**
 * The form in which everything is exported and imported: JSON Lines (UTF-8, one JSON value a line), so that a season
 * of readings streams through a small computer. The first line says what it is, the last one that it is whole.
 * Passwords, tokens, and the addresses and secrets of notification channels are not in it.
 */
import * as z from 'zod';
import { hiveVisitKinds } from '../../introduction/log/hive-visit.ts';
import {
  isInstant,
  logEntrySchema,
  introductionMethods,
  startingPoints,
} from '../../introduction/log/facts.ts';
import { quantities } from '../../units.ts';
import { idText, isoTime, placeSchema, subjectKinds } from '../../contract/common.ts';
import { hiveSchema, siteSchema } from '../../contract/places.ts';
import { arrivalInputSchema } from '../../contract/plan.ts';
import { calibrationInputSchema, mappingSchema } from '../../contract/sensors.ts';

export const exportFormat = 1;
/** Readings or roll-ups in one line. */
export const mostInALine = 5000;

const channelKey = z
  .object({
    sensor: z.string().min(1).max(200),
    quantity: z.enum(quantities),
    probe: z.string().max(200),
    unit: z.enum(['kg', 'Cel', '%RH', '%EL', 'V', 'mm']),
  })
  .describe('What names a channel; the numbers in the database are its own');

export const suspectReasons = [
  'sentinel',
  'range',
  'rate',
  'spike',
  'stuck',
  'clock',
  'uncalibrated',
] as const;
/** What the long lists of a line are made of. */
export const tuples = {
  readings: z.union([z.tuple([isoTime, z.number()]), z.tuple([isoTime, z.number(), z.enum(suspectReasons)])]),
  buckets: z.tuple([isoTime, z.number(), z.number(), z.number(), z.int()]),
};

export const lineSchema = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('welcomb-export'),
    format: z.literal(exportFormat),
    version: z.string(),
    exportedAt: isoTime,
  }),
  siteSchema.extend({ kind: z.literal('site') }),
  hiveSchema.extend({ kind: z.literal('hive') }),
  arrivalInputSchema.extend({ kind: z.literal('arrival'), id: idText }),
  z.object({
    kind: z.literal('queen'),
    id: z.string().min(1),
    arrivalId: idText.optional(),
    source: z.string(),
    line: z.string(),
    note: z.string().optional(),
  }),
  z.object({
    kind: z.literal('introduction'),
    id: idText,
    nucId: idText,
    startingPoint: z.enum(startingPoints),
    method: z.enum(introductionMethods),
    queenId: z.string().optional(),
    arrivalId: idText.optional(),
    setup: z.record(z.string(), z.unknown()),
    openedAt: isoTime.refine((time) => isInstant(Date.parse(time)), 'a time from 1970 to 2200 is wanted'),
    closedAt: isoTime.optional(),
  }),
  z.object({ kind: z.literal('log'), entry: logEntrySchema }),
  z.object({
    kind: z.literal('hive-visit'),
    id: idText,
    hiveId: idText,
    what: z.enum(hiveVisitKinds),
    happenedAt: isoTime,
    writtenAt: isoTime,
    by: z.string().max(300).optional(),
    note: z.string().max(4000).optional(),
    withdrawnAt: isoTime.optional(),
  }),
  z.object({
    kind: z.literal('channel'),
    channel: channelKey,
    lastKnown: z
      .tuple([isoTime, z.number()])
      .optional()
      .describe('When a value without a time of its own came, and the value'),
  }),
  z.object({
    kind: z.literal('calibration'),
    channel: channelKey,
    fact: calibrationInputSchema,
    writtenAt: isoTime.optional(),
    by: z.string().max(300).optional(),
  }),
  z.object({
    kind: z.literal('assignment'),
    channel: channelKey,
    hiveId: idText.optional(),
    siteId: idText.optional(),
    place: placeSchema,
    from: isoTime,
    to: isoTime.optional(),
  }),
  mappingSchema.extend({ kind: z.literal('mapping') }),
  z.object({ kind: z.literal('setting'), key: z.string().min(1).max(200), value: z.unknown() }),
  z.object({
    kind: z.literal('alert'),
    id: z.string(),
    ruleId: z.string(),
    subject: z.object({ kind: z.enum(subjectKinds), id: z.string() }),
    channels: z
      .array(z.tuple([z.int(), channelKey]))
      .max(1000)
      .optional()
      .describe('The channels that it names by the numbers of its own server'),
    phase: z.string(),
    urgency: z.string(),
    open: z.boolean(),
    changedAt: isoTime,
    state: z.unknown(),
    message: z.unknown(),
  }),
  z.object({
    kind: z.literal('readings'),
    channel: channelKey,
    readings: z
      .array(tuples.readings)
      .max(mostInALine)
      .describe('As they came, not calibrated: time, value, and why it is suspect where it is'),
    late: z
      .array(z.tuple([z.int().min(0), isoTime]))
      .max(mostInALine)
      .optional()
      .describe('Which of them (from 0) came more than a minute off their time, and when'),
  }),
  z.object({
    kind: z.literal('buckets'),
    channel: channelKey,
    size: z.enum(['hour', 'day']),
    buckets: z.array(tuples.buckets).max(mostInALine).describe('Start (UTC), mean, least, most, how many'),
    last: z
      .array(z.number())
      .max(mostInALine)
      .optional()
      .describe('The last value of each. Given for hours whose readings are gone: these are not calibrated'),
  }),
  z.object({
    kind: z.literal('past'),
    channel: channelKey,
    readings: z.int().min(0).describe('How many of its readings are gone'),
    first: isoTime,
    last: tuples.readings,
  }),
  z.object({
    kind: z.literal('quarantined'),
    topic: z.string().max(70_000),
    reason: z.string().max(1000),
    payload: z.base64().max(6000).describe('Its first 4 KiB'),
    payloadBytes: z.int().min(0),
    receivedAt: isoTime,
    retained: z.boolean().default(false).describe('The broker had kept it: it is no new reading'),
    times: z.int().min(1),
  }),
  z.object({
    kind: z.literal('forecast'),
    of: z.enum(['address', 'topic']),
    siteId: idText.optional(),
    source: z.string().max(2000),
    saidAt: isoTime,
    knownAt: isoTime,
    hours: z
      .array(z.tuple([isoTime, z.number()]))
      .max(200)
      .describe('Hour and °C'),
  }),
  z
    .object({
      kind: z.literal('calendar-event'),
      step: z.string().min(1).max(300),
      startMs: z.number(),
      revision: z.int().min(0),
    })
    .describe('What calendars were told last of a step of a plan'),
  z.object({ kind: z.literal('end'), lines: z.int().describe('How many lines came before this one') }),
]);
export type Line = z.output<typeof lineSchema>;

/** The published schema of one line. */
export const linesJsonSchema = (): object => ({
  ...z.toJSONSchema(lineSchema, { io: 'input' }),
  title: 'One line of a Welcomb export',
});
