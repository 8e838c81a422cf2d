import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { factPayloadSchema } from '../../server/introduction/facts.ts';
import { planKinds } from '../../server/introduction/plan-step.ts';
import { stepWords } from '../../server/introduction/plan-words.ts';
import type { FactKind } from '../../dashboard/api/facts.ts';
import { formFor, kindsFor } from '../../dashboard/visit/by-method.ts';
import { factForStep, gateForFact } from '../../dashboard/visit/expected.ts';
import { forms, kindsInOrder } from '../../dashboard/visit/forms.ts';
import type { FormField, Value, Values } from '../../dashboard/visit/forms.ts';
import { settle } from '../../dashboard/visit/settle.ts';
import { fromFact, inFewWords, missing, toFact, usualValues } from '../../dashboard/visit/to-fact.ts';
import type { Unsent } from '../../dashboard/visit/unsent.ts';

const kinds = Object.keys(forms) as FactKind[];
const named = { queenId: 'M 12', reason: 'the inspector asked for it' };

/** Any value that the form's own controls can give. */
function anyValue(field: FormField): fc.Arbitrary<Value> {
  switch (field.type) {
    case 'count':
      return fc.integer({ min: 0, max: field.most });
    case 'frames':
      return fc.integer({ min: 0, max: 48 }).map((n) => n / 4);
    case 'amount':
      return fc.integer({ min: 0, max: 40 }).map((n) => Math.min(field.most, n * field.step));
    case 'yes':
      return fc.boolean();
    case 'choice':
      return fc.constantFrom(...Object.keys(field.options));
    case 'words':
      return fc.constant('some words');
  }
}
const anyValues = (kind: FactKind): fc.Arbitrary<Values> =>
  fc.record(Object.fromEntries(forms[kind].fields.map((field) => [field.key, anyValue(field)])));

describe('the log’s forms', () => {
  it('offer every kind of fact once', () => {
    expect([...kindsInOrder].sort()).toEqual([...kinds].sort());
    const known = factPayloadSchema.options.map((option) => option.shape.kind.value);
    expect([...kinds].sort()).toEqual([...known].sort());
  });
  it.each(kinds)('%s: the usual case needs no change to be right', (kind) => {
    const fact = factPayloadSchema.safeParse(toFact(kind, usualValues(kind, named)));
    expect(fact.error?.message).toBeUndefined();
  });
  it.each(kinds)('%s: whatever its controls can give is a fact', (kind) => {
    fc.assert(
      fc.property(anyValues(kind), (values) => {
        const told = { ...values, ...('queenId' in values ? { queenId: 'M 12' } : {}) };
        expect(factPayloadSchema.safeParse(toFact(kind, told)).success).toBe(true);
      }),
      { numRuns: 40 },
    );
  });
  it.each(kinds)('%s: a fact that is corrected fills the form so that it would be written again', (kind) => {
    fc.assert(
      fc.property(anyValues(kind), (values) => {
        const fact = factPayloadSchema.parse(toFact(kind, { ...values, ...named }));
        expect(factPayloadSchema.parse(toFact(kind, fromFact(fact)))).toEqual(fact);
      }),
      { numRuns: 40 },
    );
  });
  it('leave out what was not told', () => {
    expect(toFact('inspection', usualValues('inspection'))).not.toHaveProperty('framesOfBees');
    expect(toFact('inspection', usualValues('inspection'))).not.toHaveProperty('temperament');
  });
  it('ask which queen it is before keeping', () => {
    expect(missing('cage-hung', usualValues('cage-hung'))).toContain('which queen');
    expect(missing('cage-hung', { queenId: 'M' })).toBeUndefined();
    expect(missing('gate-overridden', { reason: 'no' })).toContain('why');
  });
  it('are told in few words in the list of what is unsent', () => {
    const cut = toFact('cells-cut', { ...usualValues('cells-cut'), 'cells.open': 3 });
    expect(inFewWords(cut)).toBe('Cells cut: 3 open, 0 sealed, 0 emerged');
  });
});

describe('the expected step', () => {
  it.each(planKinds)('%s leads to a form of its own', (kind) => {
    expect(factForStep({ kind })).not.toBe('inspection');
  });
  it('is a look where the plan has a step that is not known here', () => {
    expect(factForStep({ kind: 'something-new' })).toBe('inspection');
    expect(factForStep({ kind: 'cut-cells', logAs: 'not-known-here' })).toBe('cells-cut');
  });
  it('is what the server says: a mesh is lifted, not a candy end opened', () => {
    const { logAs } = stepWords('open-candy', 'push-in-cage');
    expect(factForStep({ kind: 'open-candy', logAs })).toBe('cage-taken-out');
    expect(factForStep({ kind: 'open-candy', logAs: stepWords('open-candy', 'candy-cage').logAs })).toBe(
      'candy-opened',
    );
  });
  it('leaves the queen in the nuc where the mesh over her was lifted', () => {
    expect(toFact('cage-taken-out', usualValues('cage-taken-out'))).toEqual({
      kind: 'cage-taken-out',
      queen: 'left-in-nuc',
    });
  });
  it('asks and says nothing of candy in a nuc whose queen goes in under a mesh', () => {
    const mesh = kindsFor('push-in-cage').map((kind) => formFor(kind, 'push-in-cage'));
    const ofHers = mesh.filter(
      ({ title }) => title !== 'Queen arrived' && title !== 'Went against the advice',
    );
    expect(JSON.stringify(ofHers)).not.toMatch(/candy/i);
    expect(formFor('cage-hung', undefined).title).toBe('Cage hung');
    expect(kindsFor(undefined)).toContain('candy-opened');
  });
  it('is advised by its gate', () => {
    expect(gateForFact('candy-opened')).toBe('open-candy');
    expect(gateForFact('fed')).toBeUndefined();
    expect(gateForFact('cage-taken-out', 'push-in-cage')).toBe('open-candy');
    expect(gateForFact('cage-taken-out', 'candy-cage')).toBeUndefined();
  });
});

describe('what the server answers to the queue', () => {
  const one = (id: string): Unsent => ({
    nucName: 'Nuc 1',
    words: 'Fed',
    problems: [],
    entry: {
      type: 'fact',
      id,
      introductionId: 'intro-000001',
      happenedAtMs: 1,
      writtenAtMs: 2,
      fact: { kind: 'note' },
    },
  });
  it('drops what is stored, now or earlier; keeps what is refused with its reasons; keeps what it did not name', () => {
    const { stored, refused } = settle(
      [one('aaaaaaaa'), one('bbbbbbbb'), one('cccccccc'), one('dddddddd')],
      [
        { id: 'aaaaaaaa', result: 'stored', problems: [] },
        { id: 'bbbbbbbb', result: 'already-there', problems: [] },
        { id: 'cccccccc', result: 'refused', problems: ['before the split'] },
      ],
    );
    expect(stored).toEqual(['aaaaaaaa', 'bbbbbbbb']);
    expect(refused.map((each) => [each.entry.id, each.problems])).toEqual([
      ['cccccccc', ['before the split']],
    ]);
  });
});
