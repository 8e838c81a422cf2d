import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { candyEatenHours, handsOffDays, highEnd, lowEnd } from '../../server/biology/figures.ts';
import { acts, rowOf } from '../../server/introduction/acts/table.ts';
import { factPayloadSchema, type IntroductionMethod } from '../../server/introduction/log/facts.ts';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import type { FactKind } from '../../dashboard/api/facts.ts';
import { formFor, kindsFor } from '../../dashboard/visit/by-method.ts';
import {
  answersOf,
  draftOf,
  emptyDraft,
  factsOf,
  firstGap,
  withEach,
  withShared,
} from '../../dashboard/visit/draft.ts';
import { dueActs, dueGroups, factForStep, gateForFact } from '../../dashboard/visit/expected.ts';
import type { FormField, Value, Values } from '../../dashboard/visit/forms/fields.ts';
import { forms, kindsInOrder } from '../../dashboard/visit/forms/index.ts';
import type { RememberedNuc } from '../../dashboard/visit/remembered-nucs.ts';
import { settle } from '../../dashboard/visit/settle.ts';
import { fromFact, inFewWords, missing, toFact } from '../../dashboard/visit/to-fact.ts';
import type { Unsent } from '../../dashboard/visit/unsent.ts';
import { at, stateAt } from '../introduction/support/field-log.ts';

const kinds = Object.keys(forms) as FactKind[];

/** Fields of the log without a question: of older entries, or of other programs that write it. */
const notAsked: Readonly<Partial<Record<FactKind, readonly string[]>>> = {
  moved: ['siteId'],
  'looked-for-queen': ['temperament'],
};

/** Any answer that the form's own controls can give. */
function anyAnswer(field: FormField): fc.Arbitrary<Value> {
  switch (field.type) {
    case 'count':
      return fc.integer({ min: 0, max: field.most });
    case 'frames':
      return fc.integer({ min: 0, max: 48 }).map((n) => n / 4);
    case 'amount':
      return fc.integer({ min: 0, max: 40 }).map((n) => Math.min(field.most, n * field.step));
    case 'yes':
    case 'seen':
      return fc.boolean();
    case 'choice':
      return fc.constantFrom(...Object.keys(field.options));
    case 'words':
    case 'queen':
      return fc.constant('some words');
  }
}
/** Answers to any of the questions: what is needed is always there. */
const anyAnswers = (kind: FactKind): fc.Arbitrary<Values> =>
  fc.record(Object.fromEntries(forms[kind].fields.map((field) => [field.key, anyAnswer(field)])), {
    requiredKeys: forms[kind].fields.filter(({ needed }) => needed !== undefined).map(({ key }) => key),
  });

const nucNamed = (id: string, more: Partial<RememberedNuc> = {}): RememberedNuc => ({
  id,
  name: `Nuc ${id}`,
  siteName: 'Hill',
  siteId: 's',
  introductionId: `i-${id}`,
  day: 7,
  step: null,
  setup: { method: 'candy-cage' },
  ...more,
});
const step = (kind: string, label: string, state = 'due') => ({ kind, label, state });

describe('the log’s forms', () => {
  it('offer every kind of fact once', () => {
    expect([...kindsInOrder].sort()).toEqual([...kinds].sort());
    const known = factPayloadSchema.options.map((option) => option.shape.kind.value);
    expect([...kinds].sort()).toEqual([...known].sort());
  });
  it.each(factPayloadSchema.options)(
    'ask for every field of a fact, and for no other: $shape.kind.value',
    ({ shape }) => {
      const { fields, given = {} } = forms[shape.kind.value];
      const asked = [...fields.map(({ key }) => key.split('.')[0]), ...Object.keys(given)];
      const inLog = Object.keys(shape).filter((name) => name !== 'kind');
      const elsewhere = notAsked[shape.kind.value] ?? [];
      expect([...new Set([...asked, ...elsewhere])].sort(), 'ask for it in dashboard/visit/forms/').toEqual(
        inLog.sort(),
      );
    },
  );
  it.each(kinds)('%s: whatever is answered, and whatever is not, is a fact', (kind) => {
    fc.assert(
      fc.property(anyAnswers(kind), (values) => {
        const parsed = factPayloadSchema.safeParse(toFact(kind, values));
        expect(parsed.error?.message).toBeUndefined();
      }),
      { numRuns: 60 },
    );
  });
  it.each(kinds)('%s: a fact that is corrected fills the form so that it would be written again', (kind) => {
    fc.assert(
      fc.property(anyAnswers(kind), (values) => {
        const fact = factPayloadSchema.parse(toFact(kind, values));
        const draft = draftOf(fact, 'a');
        const again = toFact(kind, answersOf(draft, nucNamed('a'), kind));
        expect(factPayloadSchema.parse(again)).toEqual(fact);
        expect(factPayloadSchema.parse(toFact(kind, fromFact(fact)))).toEqual(fact);
      }),
      { numRuns: 40 },
    );
  });
  it('answer nothing for the keeper: what is not answered is not sent, or says that nobody looked', () => {
    const evidence = {
      'cells-cut': { everyFrameChecked: false, beesShakenOff: false, cells: {}, youngestBrood: 'not-looked' },
      inspection: { everyFrameChecked: false, beesShakenOff: false, cells: {}, youngestBrood: 'not-looked' },
      'split-made': { cellsAlreadyThere: 'not-looked' },
      'looked-for-queen': { eggsSeen: false, cells: {} },
      'candy-opened': {},
      'brood-frame-taken': {},
    } as const;
    for (const [kind, sent] of Object.entries(evidence))
      expect(toFact(kind as FactKind, {}), kind).toEqual({ kind, ...sent });
  });
  it('ask some things only after another answer, and send them only then', () => {
    const skipped = { framesSkipped: 2, beesShakenOff: true };
    expect(toFact('cells-cut', { ...skipped, everyFrameChecked: false })).toMatchObject({ framesSkipped: 2 });
    expect(toFact('cells-cut', { ...skipped, everyFrameChecked: true })).not.toHaveProperty('framesSkipped');
    const taken = { cellsAlreadyThere: 'present-and-removed', cellsTakenOut: 3 };
    expect(toFact('split-made', taken)).toMatchObject({ cellsTakenOut: 3 });
    expect(toFact('split-made', { ...taken, cellsAlreadyThere: 'none' })).not.toHaveProperty('cellsTakenOut');
  });
  it('say how long it stays shut after the candy was opened: until the bees are through it at the latest, and three full days', () => {
    const days = highEnd(candyEatenHours) / 24 + lowEnd(handsOffDays);
    expect(days).toBe(6);
    expect(forms['candy-opened'].lookFor.join(' ')).toContain('No look for six days');
    const three = kinds.filter((kind) => /three full days/.test(forms[kind].lookFor.join(' ')));
    expect(three).toEqual(['candy-opened', 'cage-taken-out']);
  });
  it('say that a queen who was given, and is taken out for good, is logged as dead', () => {
    expect(forms['queen-removed'].lookFor.join(' ')).toContain(`log “${forms['queen-dead'].title}”`);
    expect(forms['queen-dead'].lookFor.join(' ')).toContain('taken out for good');
  });

  it('asks how far from its parent a nuc stands: the last answer counts, so that one that is brought back is near again', () => {
    const [metres] = forms.moved.fields;
    expect(metres).toMatchObject({ key: 'metres', label: 'How far from the parent' });
    expect(metres?.needed).toContain('from the parent');
    expect(forms.moved.lookFor.join(' ')).toContain('Brought back');
  });
  it('ask where the eggs stand only where some were seen', () => {
    const look = { cageEmpty: true, queenSeen: false, behaviour: 'calm', eggsStand: 'walls' };
    expect(toFact('looked-for-queen', { ...look, eggsSeen: true })).toMatchObject({ eggsStand: 'walls' });
    expect(toFact('looked-for-queen', { ...look, eggsSeen: false })).not.toHaveProperty('eggsStand');
  });
  it('ask whether eggs stand outside the mesh only where she is under one, and eggs were seen', () => {
    const look = { everyFrameChecked: true, beesShakenOff: true, eggsOutsideMesh: false };
    const under = formFor('inspection', 'push-in-cage');
    expect(toFact('inspection', { ...look, youngestBrood: 'eggs' }, under)).toMatchObject({
      eggsOutsideMesh: false,
    });
    expect(toFact('inspection', { ...look, youngestBrood: 'none' }, under)).not.toHaveProperty(
      'eggsOutsideMesh',
    );
    const caged = formFor('inspection', 'candy-cage');
    expect(toFact('inspection', { ...look, youngestBrood: 'eggs' }, caged)).not.toHaveProperty(
      'eggsOutsideMesh',
    );
  });
  it('ask for what an entry can’t do without', () => {
    const asked = kinds.filter((kind) => missing(kind, {}) !== undefined);
    expect(asked.sort()).toEqual(
      [
        'balled',
        'brood-disease',
        'brood-frame-added',
        'cage-checked',
        'cage-hung',
        'candy-opened',
        'fed',
        'grafted',
        'gate-overridden',
        'looked-for-queen',
        'moved',
        'outcome',
        'queen-arrived',
        'queen-escaped',
        'queen-removed',
        'split-made',
      ].sort(),
    );
    expect(missing('gate-overridden', { gate: 'open-candy', reason: 'no' })).toContain('why');
    expect(missing('split-made', {})).toContain('old queen');
    const counted = {
      oldQueen: 'seen-in-parent',
      cellsAlreadyThere: 'none',
      framesOfBees: 3,
      framesOfSealedBrood: 0,
      framesOfOpenBrood: 0,
      framesOfStores: 0,
    };
    expect(missing('split-made', counted)).toBeUndefined();
    expect(missing('split-made', { ...counted, framesOfBees: 0 })).toContain('A split has bees');
  });
  it('take a whole look only with its cells counted, each kind of them', () => {
    const whole = { everyFrameChecked: true, beesShakenOff: true };
    expect(missing('cells-cut', whole)).toContain('No cells');
    expect(missing('cells-cut', { ...whole, 'cells.open': 2 })).toContain('No others');
    const none = { 'cells.open': 0, 'cells.sealed': 0, 'cells.emerged': 0, 'cells.tornDown': 0 };
    expect(missing('cells-cut', { ...whole, ...none })).toBeUndefined();
    expect(missing('cells-cut', { beesShakenOff: true })).toBeUndefined();
  });
  it('take a queen that was not seen only with an answer about eggs', () => {
    const looked = { cageEmpty: true, queenSeen: false, behaviour: 'calm' };
    expect(missing('looked-for-queen', looked)).toContain('eggs');
    expect(missing('looked-for-queen', { ...looked, eggsSeen: false })).toBeUndefined();
    expect(missing('looked-for-queen', { ...looked, queenSeen: true })).toBeUndefined();
  });
  it('are told in few words in the list of what is unsent', () => {
    expect(inFewWords(toFact('cells-cut', { 'cells.open': 3 }))).toBe('Cells cut: 3 open');
    expect(inFewWords(toFact('cells-cut', {}))).toBe('Cells cut');
  });
});

describe('a visit to several nucs', () => {
  const nucs = [nucNamed('1', { setup: { method: 'candy-cage', nextQueen: 'Thorn 3' } }), nucNamed('2')];
  const answers = (): ReturnType<typeof emptyDraft> => {
    let draft = emptyDraft(['cells-cut', 'cage-hung']);
    draft = withShared(draft, 'cells-cut', 'everyFrameChecked', true);
    draft = withShared(draft, 'cage-hung', 'candyEnd', 'closed');
    const none = { 'cells.sealed': 0, 'cells.emerged': 0, 'cells.tornDown': 0 };
    draft = withEach(draft, '1', 'cells-cut', { 'cells.open': 2, ...none });
    return withEach(draft, '2', 'cells-cut', { 'cells.open': 0, ...none });
  };
  it('is a fact of each act for each, with its own counts and its own queen', () => {
    const facts = factsOf(answers(), nucs);
    if (typeof facts === 'string') throw new Error(facts);
    expect(facts.map(({ one, fact }) => [one.id, fact.kind])).toEqual([
      ['1', 'cells-cut'],
      ['1', 'cage-hung'],
      ['2', 'cells-cut'],
      ['2', 'cage-hung'],
    ]);
    expect(facts[0]?.fact).toMatchObject({ everyFrameChecked: true, cells: { open: 2 } });
    expect(facts[2]?.fact).toMatchObject({ everyFrameChecked: true, cells: { open: 0 } });
    expect(facts[1]?.fact).toMatchObject({ queenId: 'Thorn 3', candyEnd: 'closed' });
    expect(facts[3]?.fact).toMatchObject({ queenId: 'Nuc 2 queen' });
  });
  it('names the nuc of which something is missing', () => {
    const third = nucNamed('3');
    expect(factsOf(answers(), [...nucs, third])).toMatch(/^Nuc 3: Every frame was checked/);
  });
  it('knows where the missing answer belongs: nuc, act and question', () => {
    const third = nucNamed('3');
    expect(firstGap(answers(), nucs)).toBeUndefined();
    expect(firstGap(answers(), [...nucs, third])).toMatchObject({
      nucId: '3',
      kind: 'cells-cut',
      key: 'cells.open',
    });
    expect(firstGap(emptyDraft(['split-made']), [third])).toEqual({
      nucId: '3',
      kind: 'split-made',
      key: 'oldQueen',
      words: 'Say where the old queen was, or that you did not see her.',
    });
  });
  it('calls a queen the same in each act of the visit', () => {
    let draft = emptyDraft(['queen-arrived', 'cage-hung']);
    draft = withEach(draft, '2', 'queen-arrived', { queenId: 'Blue' });
    expect(answersOf(draft, nucNamed('2'), 'cage-hung')['queenId']).toBe('Blue');
  });
  it('is offered for the nucs of a site in which the same is due', () => {
    const due = [step('cut-cells', 'Cut'), step('hang-cage', 'Hang')];
    const [group, ...others] = dueGroups([
      nucNamed('2', { due }),
      nucNamed('11', { due }),
      nucNamed('3', { due, siteId: 'other', siteName: 'Vale' }),
      nucNamed('4', { due: [] }),
      nucNamed('5', { due, introductionId: null }),
    ]);
    expect(group?.nucs.map(({ id }) => id)).toEqual(['2', '11']);
    expect(group?.acts).toEqual(['cells-cut', 'cage-hung']);
    expect(others).toHaveLength(1);
    const arrives = [...due, step('queen-arrives', 'Queen comes')];
    expect(dueActs({ due: arrives, step: null })).toEqual(['queen-arrived', 'cells-cut', 'cage-hung']);
    expect(dueActs({ step: step('cut-cells', 'Cut', 'planned') })).toEqual([]);
    expect(dueActs({ step: step('cut-cells', 'Cut', 'overdue') })).toEqual(['cells-cut']);
  });
  it('is offered first where it is overdue, else by the names of the nucs', () => {
    const due = (kind: string, state: 'due' | 'overdue') => ({ due: [step(kind, kind, state)] });
    const groups = dueGroups([
      nucNamed('1', due('cut-cells', 'due')),
      nucNamed('2', due('hang-cage', 'due')),
      nucNamed('3', due('look-for-queen', 'overdue')),
    ]);
    expect(groups.map(({ nucs }) => nucs[0]?.id)).toEqual(['3', '1', '2']);
  });
});

describe('the expected step', () => {
  it.each(acts)('$kind leads to the form that the server names', ({ kind, words }) => {
    const { logAs } = words(answerFor(stateAt([], at(0))).situation);
    expect(factForStep({ kind, logAs })).toBe(logAs);
  });
  it('is a look where the plan has a step that is not known here', () => {
    expect(factForStep({ kind: 'something-new' })).toBe('inspection');
    expect(factForStep({ kind: 'cut-cells', logAs: 'not-known-here' })).toBe('cells-cut');
  });
  it('is what the server says: a mesh is lifted, not a candy end opened', () => {
    const logAs = (method: IntroductionMethod) =>
      rowOf('open-candy').words(answerFor(stateAt([], at(0), { method })).situation).logAs;
    expect(factForStep({ kind: 'open-candy', logAs: logAs('push-in-cage') })).toBe('cage-taken-out');
    expect(factForStep({ kind: 'open-candy', logAs: logAs('candy-cage') })).toBe('candy-opened');
  });
  it('asks where the queen is when the mesh over her was lifted', () => {
    const form = formFor('cage-taken-out', 'push-in-cage');
    expect(missing('cage-taken-out', {}, form)).toContain('walks on the comb');
    expect(toFact('cage-taken-out', { queen: 'left-in-nuc' }, form)).toEqual({
      kind: 'cage-taken-out',
      queen: 'left-in-nuc',
    });
  });
  it('hangs a cage without a candy end as a closed one', () => {
    const form = formFor('cage-hung', 'push-in-cage');
    expect(missing('cage-hung', { queenId: 'M' }, form)).toBeUndefined();
    expect(toFact('cage-hung', { queenId: 'M' }, form)).toMatchObject({ candyEnd: 'closed' });
  });
  it('asks and says nothing of candy in a nuc whose queen goes in under a mesh', () => {
    const mesh = kindsFor('push-in-cage').map((kind) => formFor(kind, 'push-in-cage'));
    const ofHers = mesh.filter(
      ({ title }) => title !== 'Queen arrived' && title !== 'Went against the advice',
    );
    expect(JSON.stringify(ofHers.map(({ title, lookFor, fields }) => [title, lookFor, fields]))).not.toMatch(
      /candy/i,
    );
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
