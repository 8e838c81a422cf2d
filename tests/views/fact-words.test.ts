/** What a keeper answered is read again in the log: no answer is taken in silence. */
import { describe, expect, test } from 'vitest';
import * as z from 'zod';
import { factPayloadSchema, type FactPayload } from '../../server/introduction/log/facts.ts';
import { factWords } from '../../server/views/nuc/fact-words.ts';
import { setFor } from '../../server/words/phrase.ts';

/** Not answers of their own: names for the program, and a mood that the form asks as `behaviour`. */
const unsaid: Readonly<Record<string, readonly string[]>> = {
  moved: ['siteId'],
  'queen-arrived': ['queenId'],
  'cage-hung': ['queenId'],
  'looked-for-queen': ['temperament'],
};

const jsonSchema = z.object({
  const: z.string().optional(),
  type: z.string().optional(),
  enum: z.array(z.string()).optional(),
  properties: z.record(z.string(), z.unknown()).optional(),
});

/** Two values or more that the log takes for a field. */
function valuesOf(schema: unknown): readonly unknown[] {
  const { type, const: only, enum: options, properties } = jsonSchema.parse(schema);
  if (only !== undefined) return [only];
  if (options) return options;
  if (type === 'boolean') return [false, true];
  if (type === 'integer' || type === 'number') return [1, 2];
  if (type === 'string') return ['one', 'another'];
  const inner = Object.entries(properties ?? {}).map(([name, one]) => [name, valuesOf(one)] as const);
  return [0, 1].map((at) => Object.fromEntries(inner.map(([name, values]) => [name, values[at]])));
}

const words = (fact: unknown): string =>
  factWords(fact as FactPayload, 'candy-cage', setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' }));

describe('an answer in the log changes what the log says', () => {
  const fields = factPayloadSchema.options.flatMap((payload) => {
    const { properties = {} } = jsonSchema.parse(z.toJSONSchema(payload, { io: 'input' }));
    const whole = Object.fromEntries(
      Object.entries(properties).map(([name, one]) => [name, valuesOf(one)[0]] as const),
    );
    const { value: kind } = payload.shape.kind;
    return Object.entries(properties)
      .filter(([name]) => name !== 'kind' && !(unsaid[kind] ?? []).includes(name))
      .map(([name, one]) => ({
        kind,
        name,
        said: valuesOf(one).map((value) => ({ ...whole, [name]: value })),
      }));
  });

  test.each(fields)('$kind: $name', ({ said }) => {
    expect(new Set(said.map(words)).size, 'say it in server/views/nuc/fact-words.ts').toBeGreaterThan(1);
  });
});

test('cells that nobody counted are not said to be none', () => {
  const look = { kind: 'inspection', everyFrameChecked: false, beesShakenOff: false, youngestBrood: 'none' };
  expect(words({ ...look, cells: {} })).toContain('cells not counted');
  expect(words({ ...look, cells: { open: 0, sealed: 0, emerged: 0, tornDown: 0 } })).toContain('no cells');
});
