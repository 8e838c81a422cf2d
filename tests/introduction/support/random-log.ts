/** Arbitrary field logs: any facts in any order within a month of a split, with corrections among them. */
import fc from 'fast-check';
import * as z from 'zod';
import {
  factPayloadSchema,
  type FactPayload,
  type LogEntry,
} from '../../../server/introduction/log/facts.ts';
import { at, facts } from './field-log.ts';

const counts = fc.record({
  open: fc.integer({ min: 0, max: 8 }),
  sealed: fc.integer({ min: 0, max: 12 }),
  emerged: fc.constantFrom(0, 0, 0, 1),
  tornDown: fc.integer({ min: 0, max: 3 }),
});
const brood = fc.constantFrom(
  'eggs',
  'young-larvae',
  'old-larvae',
  'sealed-only',
  'none',
  'not-looked',
  'not-looked',
) as fc.Arbitrary<'eggs' | 'young-larvae' | 'old-larvae' | 'sealed-only' | 'none' | 'not-looked'>;
const seldom = fc.integer({ min: 0, max: 9 }).map((n) => n === 0);

/** Facts that matter to the answers, often enough that every answer comes up. */
const aTellingFact: fc.Arbitrary<FactPayload> = fc.oneof(
  fc
    .record({
      cells: counts,
      everyFrameChecked: fc.boolean(),
      beesShakenOff: fc.boolean(),
      youngestBrood: brood,
    })
    .map((over) => facts.cut({}, { ...over })),
  fc
    .record({
      cells: counts,
      everyFrameChecked: fc.boolean(),
      beesShakenOff: fc.boolean(),
      youngestBrood: brood,
      virginSeen: seldom,
      layingQueenSeen: seldom,
      severalEggsACell: seldom,
    })
    .map((over) => facts.inspection(over)),
  fc.constantFrom<FactPayload>(
    facts.cut({ sealed: 6 }),
    facts.inspection({ youngestBrood: 'eggs', eggsOutsideMesh: true }),
    facts.inspection({ youngestBrood: 'eggs', eggsOutsideMesh: false }),
    facts.cut(),
    facts.hung(),
    facts.atCage(),
    facts.atCage({ behaviour: 'biting' }),
    facts.arrived(),
    facts.arrived({ condition: 'dead' }),
    facts.opened(),
    facts.looked(),
    facts.looked({ queenSeen: false, eggsSeen: false }),
    facts.looked({ queenSeen: false, severalEggsACell: true, eggsStand: 'bottom' }),
    facts.looked({ queenSeen: false, eggsStand: 'walls' }),
    facts.broodAdded(),
    facts.broodAdded({ brood: 'sealed-only' }),
    facts.broodAdded({ brood: 'old-larvae' }),
    facts.broodAdded({ asTestFrame: true }),
    facts.broodTaken({ cellsOnIt: 3 }),
    facts.broodTaken({ cellsOnIt: 0 }),
    { kind: 'moved', metres: 12 },
    { kind: 'fed', feed: 'syrup', kilograms: 0.5 },
    { kind: 'queen-removed', which: 'virgin' },
    { kind: 'queen-removed', which: 'old-queen' },
    { kind: 'cage-taken-out' },
    { kind: 'cage-taken-out', queen: 'in-the-cage', forAnotherNuc: true },
    { kind: 'balled', rescued: true },
    { kind: 'queen-dead' },
    { kind: 'gate-overridden', gate: 'open-candy', reason: 'no other day' },
    { kind: 'brood-disease', found: 'signs' },
    { kind: 'note' },
  ),
);

const jsonSchema = z.object({
  const: z.string().optional(),
  type: z.string().optional(),
  enum: z.array(z.string()).optional(),
  minimum: z.number().optional(),
  maximum: z.number().optional(),
  multipleOf: z.number().optional(),
  properties: z.record(z.string(), z.unknown()).optional(),
  required: z.array(z.string()).optional(),
});

/** Whatever the log takes for a field; counts and frames as large as a nuc has them. */
function anyValue(schema: unknown): fc.Arbitrary<unknown> {
  const { type, minimum = 0, maximum = 12, multipleOf = 1, ...json } = jsonSchema.parse(schema);
  if (json.const !== undefined) return fc.constant(json.const);
  if (json.enum) return fc.constantFrom(...json.enum);
  if (type === 'boolean') return fc.boolean();
  if (type === 'string') return fc.constantFrom('queen-one', 'queen-two');
  if (type === 'integer' || type === 'number') {
    const steps = { min: minimum / multipleOf, max: Math.min(maximum, 12) / multipleOf };
    return fc.integer(steps).map((n) => n * multipleOf);
  }
  const fields = Object.entries(json.properties ?? {}).map(([name, one]) => [name, anyValue(one)] as const);
  return fc.record(Object.fromEntries(fields), { requiredKeys: json.required ?? [] });
}

/** Every kind of fact but the split, with any of its fields: as the schema of the log has them. */
const aFactOfTheSchema: fc.Arbitrary<FactPayload> = fc
  .oneof(
    ...factPayloadSchema.options
      .filter(({ shape }) => shape.kind.value !== 'split-made')
      .map((payload) => anyValue(z.toJSONSchema(payload, { io: 'input' }))),
  )
  .map((fact) => factPayloadSchema.parse(fact));

export const anyFact: fc.Arbitrary<FactPayload> = fc.oneof(
  { weight: 3, arbitrary: aTellingFact },
  { weight: 1, arbitrary: aFactOfTheSchema },
);

const aSplit: fc.Arbitrary<FactPayload> = fc
  .record({
    oldQueen: fc.constantFrom(
      'seen-in-parent',
      'seen-in-parent',
      'seen-in-split-and-moved',
      'not-seen',
    ) as fc.Arbitrary<'seen-in-parent' | 'seen-in-split-and-moved' | 'not-seen'>,
    cellsAlreadyThere: fc.constantFrom(
      'none',
      'none',
      'present-and-removed',
      'present-and-left',
      'not-looked',
    ) as fc.Arbitrary<'none' | 'present-and-removed' | 'present-and-left' | 'not-looked'>,
  })
  .map((over) => facts.split(over));

/** Days after the split, to the minute, within working hours. */
export const aMoment: fc.Arbitrary<number> = fc
  .tuple(fc.integer({ min: 0, max: 24 }), fc.integer({ min: 0, max: 600 }))
  .map(([day, minute]) => at(day, 8) + minute * 60_000);

export const entry = (
  id: string,
  happenedAtMs: number,
  fact: FactPayload,
  writtenAtMs = happenedAtMs,
): LogEntry => ({
  id,
  introductionId: 'intro-one',
  type: 'fact',
  happenedAtMs,
  writtenAtMs,
  fact,
});

/** A split on day 0, a usual course of looks half of the time, and up to eight facts more. */
export const aLog: fc.Arbitrary<LogEntry[]> = fc
  .tuple(aSplit, fc.boolean(), fc.array(fc.tuple(aMoment, anyFact), { maxLength: 8 }))
  .map(([split, usual, more]) => {
    const course: [number, FactPayload][] = usual
      ? [
          [at(7), facts.cut({ sealed: 9 })],
          [at(7, 10.5), facts.hung()],
          [at(10), facts.cut()],
        ]
      : [];
    return [[at(0, 8) - 1, split] as const, ...course, ...more].map(([atMs, fact], i) =>
      entry(`entry-${String(i).padStart(4, '0')}`, atMs, fact),
    );
  });
