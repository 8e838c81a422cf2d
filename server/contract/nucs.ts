/** A nuc as the dashboard shows it: its day rail, what the signals say, the gates, the plan and the log. */
import * as z from 'zod';
import { introductionMethods, logEntrySchema, startingPoints } from '../introduction/log/facts.ts';
import {
  estimateSchema,
  idText,
  isoTime,
  latestSchema,
  listOf,
  placeSchema,
  urgencySchema,
} from './common.ts';
import { hiveSchema } from './places.ts';
import { waitingSchema } from './waiting.ts';

/** Days on the rail are calendar days at the site since the split, with the part of the day as a fraction. */
const day = z.number();

export const railSchema = z.object({
  day0: isoTime.describe('Start of the calendar day of the split at the site'),
  timeZone: z.string(),
  today: day,
  lastDay: day.describe('Where the rail ends'),
  windows: z.array(
    z.object({
      kind: z.enum(['rearable-larvae', 'virgin-possible', 'open-brood', 'sealed-brood', 'laying-workers']),
      fromDay: day,
      toDay: day,
      text: z.string(),
    }),
  ),
  bars: z.array(
    z.object({
      kind: z.enum(['caged', 'hands-off', 'laying']),
      fromDay: day,
      toDay: day,
      planned: z.boolean(),
      text: z.string(),
    }),
  ),
  visits: z.array(
    z.object({
      day,
      at: isoTime,
      kind: z.string(),
      label: z.string(),
      state: z.enum(['done', 'planned', 'due', 'overdue']),
      id: z.string(),
    }),
  ),
  /** Night weight levels, kg. */
  nights: z.array(z.object({ day, kg: z.number() })),
  /** Brood temperature by hour: lowest, mean, highest, °C. */
  brood: z.array(z.object({ day, low: z.number(), mean: z.number(), high: z.number() })),
  /** Band expected at each stage. */
  band: z.array(z.object({ fromDay: day, toDay: day, lowC: z.number(), highC: z.number() })),
  alerts: z.array(z.object({ day, toDay: day, urgency: urgencySchema, id: z.string(), text: z.string() })),
  /** The rail in words, for those who can't see it. */
  inWords: z.string(),
});
export type Rail = z.infer<typeof railSchema>;

const reasonSchema = z.object({
  ok: z.union([z.boolean(), z.literal('unknown')]),
  text: z.string(),
  figure: z.object({ name: z.string(), value: z.string(), source: z.string() }).optional(),
});
const doneSchema = z
  .literal(true)
  .optional()
  .describe('With `stop`: it is done already, and nothing is wrong');

export const gateSchema = z.object({
  gate: z.enum(['cut-cells', 'hang-cage', 'open-candy', 'look-for-queen']),
  question: z.string(),
  answer: z.enum(['go', 'wait', 'stop']),
  until: isoTime.optional(),
  headline: z.string(),
  done: doneSchema,
  reasons: z.array(reasonSchema),
  overridden: z.object({ by: z.string().optional(), reason: z.string(), at: isoTime }).optional(),
});
export type GateDto = z.infer<typeof gateSchema>;

export const planStepSchema = z.object({
  id: z.string(),
  nucId: idText,
  nucName: z.string(),
  siteId: idText,
  siteName: z.string(),
  kind: z.string(),
  label: z.string().optional().describe('What the kind of step is called in a list'),
  logAs: z.string().optional().describe('Kind of the fact that logs it'),
  earliest: isoTime,
  target: isoTime,
  latest: isoTime,
  state: z.enum(['done', 'planned', 'due', 'overdue']),
  blockedBy: z
    .string()
    .optional()
    .describe('What forbids the step now; such a step is neither due nor overdue'),
  offered: z.boolean().optional().describe('It may be done, and nothing waits for it; it is never due'),
  afterArrivalDays: z
    .number()
    .optional()
    .describe(
      'Her day went by, or none is known: so many days after she comes. Its dates are those of a queen who comes today',
    ),
  whatToDo: z.string(),
  whatToBring: z.array(z.string()),
  queen: z.string().optional().describe('Name of the queen that is hung in it'),
  why: z.array(z.string()),
  goodToKnow: z
    .array(
      z.object({ text: z.string(), source: z.string().describe('“common practice”, or where it was read') }),
    )
    .optional()
    .describe('What a queen raiser would add; absent where the step is done'),
  clashes: z.array(z.string()),
});
export type PlanStepDto = z.infer<typeof planStepSchema>;

const driftSchema = z.object({
  state: z.enum(['no-flying-weather', 'leaving', 'nearly-gone', 'gone', 'cannot-tell']),
  text: z.string(),
  short: z.string().describe('The answer in a few words'),
  massG: estimateSchema,
  bees: estimateSchema,
  completeness: estimateSchema,
  flightHours: z.number(),
  flyingDays: z.number(),
});

const openAlertBriefSchema = z.object({
  id: z.string(),
  ruleId: z.string().optional(),
  urgency: urgencySchema,
  headline: z.string(),
});

export const nucSummarySchema = z.object({
  hive: hiveSchema,
  siteName: z.string(),
  introductionId: idText.nullable(),
  stage: z.string(),
  stageText: z.string(),
  stageName: z.string().describe('The stage in a few words, as a heading says it'),
  day: z.number().nullable(),
  latest: z.partialRecord(placeSchema, latestSchema),
  drift: driftSchema.nullable(),
  tonight: z
    .object({
      lowestC: z.number().describe('Lowest brood temperature expected in the night ahead, °C'),
      lowC: z.number(),
      highC: z.number(),
      limitC: z.number(),
      chanceBelow: z.number().nullable().describe('Chance that the brood falls below the limit, 0 to 1'),
      forecast: z
        .object({ source: z.string(), minC: z.number(), saidAt: isoTime })
        .nullable()
        .describe('The weather forecast that it rests on; null where it goes by the last nights'),
    })
    .nullable()
    .describe('Null where the night can’t be foreseen'),
  nextStep: planStepSchema.nullable(),
  candyGate: z
    .object({
      answer: z.enum(['go', 'wait', 'stop']),
      headline: z.string(),
      until: isoTime.optional(),
      done: doneSchema,
    })
    .nullable(),
  alerts: z.array(openAlertBriefSchema),
  queenLost: z
    .boolean()
    .optional()
    .describe('Her queen is dead or gone, also one that came dead, and no other is at hand'),
  diseaseSigns: z.boolean().optional().describe('Signs of brood disease are logged, and not ruled out'),
  rail: railSchema.nullable(),
  setup: z
    .object({
      method: z.enum(introductionMethods),
      queen: z.string().optional(),
      nextQueen: z.string().optional().describe('What the log’s forms call the queen that comes next'),
    })
    .nullable()
    .describe('What the log’s forms go by; null while no introduction is open'),
});
export type NucSummary = z.infer<typeof nucSummarySchema>;
export const nucsSchema = listOf(nucSummarySchema);
export const nucsQuerySchema = z.object({
  traces: z
    .stringbool()
    .default(true)
    .describe('With `false` the rails come without nights, brood hours and band: a list needs none'),
});

export const nucDetailSchema = nucSummarySchema.extend({
  gates: z.array(gateSchema),
  plan: z.array(planStepSchema),
  log: z.array(
    z.object({
      entry: logEntrySchema,
      text: z.string(),
      happenedAt: isoTime,
      day: z.number(),
      correctedBy: z.string().optional(),
      withdrawn: z.boolean(),
      movedHere: z
        .literal(true)
        .optional()
        .describe('Written for another nuc, and moved here by `correctedBy`: it counts here'),
    }),
  ),
  contradictions: z.array(z.string()),
  signals: z.array(
    z.object({
      id: z.string(),
      title: z.string(),
      text: z.string(),
      short: z.string().describe('The answer in a few words'),
      restsOn: z.array(z.string()),
      level: z.enum(['agrees', 'against', 'neutral', 'cannot-tell']),
    }),
  ),
  population: z
    .object({
      days: z.array(z.object({ day: z.number(), bees: z.number(), low: z.number(), high: z.number() })),
      text: z.string(),
      short: z.string().describe('The answer in a few words'),
      release: z.object({
        day: z.number(),
        framesOfBees: z.number().describe('Frames that the bees of that day cover'),
        done: z.boolean(),
        ifToday: z
          .literal(true)
          .optional()
          .describe('Nobody knows when her queen comes: the day is today, as if she were let out on it'),
      }),
      troughDay: z.number(),
    })
    .nullable(),
  afterAcceptance: z.array(z.object({ id: z.string(), at: isoTime, text: z.string() })),
  setup: z
    .object({
      startingPoint: z.enum(startingPoints),
      method: z.enum(introductionMethods),
      queen: z.string().optional(),
      nextQueen: z.string().optional(),
      ended: z.boolean(),
      next: z.enum(startingPoints).describe('What the colony would start as in the next introduction'),
    })
    .nullable(),
  waiting: waitingSchema.nullable().describe('For a nuc that wants a queen'),
});
export type NucDetail = z.infer<typeof nucDetailSchema>;
