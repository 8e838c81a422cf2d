/** The random logs of the property tests hold whatever the schema of the log takes: a new field is drawn by itself. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { factPayloadSchema } from '../../server/introduction/log/facts.ts';
import { anyFact } from './support/random-log.ts';

it('every field of every entry but the split is drawn', () => {
  const drawn = new Set(
    fc
      .sample(anyFact, { numRuns: 5000, seed: 1 })
      .flatMap((fact) => Object.keys(fact).map((name) => `${fact.kind}: ${name}`)),
  );
  const known = factPayloadSchema.options
    .filter(({ shape }) => shape.kind.value !== 'split-made')
    .flatMap(({ shape }) => Object.keys(shape).map((name) => `${shape.kind.value}: ${name}`));
  expect(known.filter((name) => !drawn.has(name))).toEqual([]);
});
