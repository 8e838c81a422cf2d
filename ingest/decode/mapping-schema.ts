/** A mapping: how messages of one topic filter become readings. Plain data, edited on the Sensors page. */
import * as z from 'zod';
import { quantities, toStoredUnit } from '../../server/units.ts';
import { isPointer } from './json-pointer.ts';
import { read, unread, type Read } from './message.ts';
import { captureNames, isNamedFilter } from './topic-filter.ts';

const pointer = z.string().max(500).refine(isPointer, 'expected a JSON Pointer, such as /data/weight');
const label = z.string().min(1).max(100);

function isZone(text: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: text }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

/** A name: fixed, a named level of the topic, or from the message. */
const source = z.union([
  z.strictObject({ text: label }),
  z.strictObject({
    level: label.describe('A named level of the topic, such as sensor in shed/+sensor/weight'),
  }),
  z.strictObject({ pointer }),
]);
export type MappingSource = z.infer<typeof source>;

const value = z
  .strictObject({
    quantity: z.enum(quantities),
    /** Absent for a payload that is a plain number. */
    pointer: pointer.optional(),
    unit: z.union([z.string().min(1).max(20), z.strictObject({ pointer })]).optional(),
    probe: z.union([z.literal(''), label, source]).default(''),
    /** Multiplied before the unit is converted, for devices that send tenths. */
    factor: z
      .number()
      .refine((factor) => factor !== 0, 'expected a factor other than 0')
      .default(1),
    /** A message without it is no mistake. */
    optional: z.boolean().default(false),
  })
  .superRefine(({ quantity, unit }, context) => {
    if (typeof unit !== 'string') return;
    const converted = toStoredUnit(quantity, 0, unit);
    if (!converted.ok) context.addIssue({ code: 'custom', path: ['unit'], message: converted.reason });
  });

export const mappingSchema = z
  .strictObject({
    name: label,
    topic: z
      .string()
      .max(1000)
      .refine(isNamedFilter, 'expected an MQTT topic filter, such as shed/+sensor/state'),
    sensor: source,
    values: z.array(value).min(1).max(50),
    time: z
      .strictObject({ pointer, zone: z.string().refine(isZone, 'expected an IANA time zone').optional() })
      .optional(),
    /** Repeats are recognised by device and frame counter. */
    frame: z.strictObject({ device: pointer, counter: pointer }).optional(),
  })
  .superRefine((mapping, context) => {
    const names = captureNames(mapping.topic);
    const check = (from: unknown, path: (string | number)[]): void => {
      if (typeof from !== 'object' || from === null || !('level' in from)) return;
      if (names.includes(String(from.level))) return;
      context.addIssue({
        code: 'custom',
        path,
        message: `the topic has no level named +${String(from.level)}`,
      });
    };
    check(mapping.sensor, ['sensor']);
    for (const [at, { probe }] of mapping.values.entries()) check(probe, ['values', at, 'probe']);
    if (mapping.values.length > 1 && mapping.values.some((each) => each.pointer === undefined)) {
      context.addIssue({ code: 'custom', path: ['values'], message: 'several values need a pointer each' });
    }
  });
export type Mapping = z.output<typeof mappingSchema>;

/** One sentence that names each key that is wrong. */
export function readMapping(candidate: unknown): Read<Mapping> {
  const parsed = mappingSchema.safeParse(candidate);
  return parsed.success ? read(parsed.data) : unread(sentence(parsed.error));
}

const sentence = (error: z.ZodError): string =>
  error.issues
    .slice(0, 5)
    .map(({ path, message }) => `${path.length === 0 ? 'mapping' : path.join('.')}: ${message}`)
    .join('; ');

/** As the Sensors page saves it: the mappings in their order, those that are switched off marked. */
const fileSchema = z.strictObject({
  format: z.literal('welcomb-mappings'),
  version: z.literal(1),
  mappings: z
    .array(
      z
        .looseObject({ enabled: z.boolean().default(true) })
        .transform(({ enabled, ...mapping }) => ({ enabled, mapping }))
        .pipe(z.object({ enabled: z.boolean(), mapping: mappingSchema })),
    )
    .max(1000),
});
export type MappingOfFile = z.output<typeof fileSchema>['mappings'][number];

/** All or nothing: one bad mapping refuses the file with the key that is wrong. */
export function readMappingFile(candidate: unknown): Read<readonly MappingOfFile[]> {
  const parsed = fileSchema.safeParse(candidate);
  return parsed.success ? read(parsed.data.mappings) : unread(sentence(parsed.error));
}
