/** What is being written down: one visit, for one nuc or several, with one act or several. Pure. */
import type { Fact, FactKind } from '../api/facts.ts';
import { formFor } from './by-method.ts';
import type { Value, Values } from './forms/fields.ts';
import { forms } from './forms/index.ts';
import type { RememberedNuc } from './remembered-nucs.ts';
import { fromFact, gapIn, toFact, type Gap } from './to-fact.ts';

type ByKind = Readonly<Partial<Record<FactKind, Values>>>;

export interface Draft {
  /** In the order in which they are done. */
  readonly acts: readonly FactKind[];
  readonly shared: ByKind;
  /** What each nuc has for itself. */
  readonly each: Readonly<Record<string, ByKind>>;
}

export const emptyDraft = (acts: readonly FactKind[]): Draft => ({ acts, shared: {}, each: {} });

/** What would write this fact again: for correcting it. */
export function draftOf(fact: Fact, nucId: string): Draft {
  const { kind } = fact;
  const own = new Set(forms[kind].fields.filter(({ each }) => each === true).map(({ key }) => key));
  const values = Object.entries(fromFact(fact));
  const part = (isOwn: boolean): Values =>
    Object.fromEntries(values.filter(([key]) => own.has(key) === isOwn));
  return withEach({ ...emptyDraft([kind]), shared: { [kind]: part(false) } }, nucId, kind, part(true));
}

/** Undefined: the answer is taken back. */
export type ValueChanges = Readonly<Record<string, Value | undefined>>;

const changed = (before: Values | undefined, change: ValueChanges): Values =>
  Object.fromEntries(
    Object.entries({ ...before, ...change }).flatMap(([key, value]) =>
      value === undefined ? [] : [[key, value]],
    ),
  );

export const withShared = (draft: Draft, kind: FactKind, key: string, value: Value | undefined): Draft => ({
  ...draft,
  shared: { ...draft.shared, [kind]: changed(draft.shared[kind], { [key]: value }) },
});

export function withEach(draft: Draft, nucId: string, kind: FactKind, change: ValueChanges): Draft {
  const own = draft.each[nucId] ?? {};
  return { ...draft, each: { ...draft.each, [nucId]: { ...own, [kind]: changed(own[kind], change) } } };
}

/** The queen as somebody named her in any act of this visit, else as the nuc's next one is called. */
function queenOf(draft: Draft, one: RememberedNuc): string {
  const said = draft.acts
    .map((kind) => draft.each[one.id]?.[kind]?.['queenId'])
    .find((id) => id !== undefined && id !== '');
  return said === undefined ? nextQueenOf(one) : String(said);
}

const nextQueenOf = ({ setup, name }: RememberedNuc): string =>
  setup?.nextQueen ?? setup?.queen ?? `${name} queen`;

export function answersOf(draft: Draft, one: RememberedNuc, kind: FactKind): Values {
  const asksQueen = formFor(kind, one.setup?.method).fields.some(({ type }) => type === 'queen');
  return {
    ...(asksQueen ? { queenId: queenOf(draft, one) } : {}),
    ...draft.shared[kind],
    ...draft.each[one.id]?.[kind],
  };
}

export interface Written {
  readonly one: RememberedNuc;
  readonly fact: Fact;
}

/** Where an answer is missing. */
export interface DraftGap extends Gap {
  readonly kind: FactKind;
  readonly nucId: string;
}

/** The first answer of the visit that is still missing before it can be kept. */
export function firstGap(draft: Draft, nucs: readonly RememberedNuc[]): DraftGap | undefined {
  for (const one of nucs) {
    for (const kind of draft.acts) {
      const gap = gapIn(kind, answersOf(draft, one, kind), formFor(kind, one.setup?.method));
      if (!gap) continue;
      const words = nucs.length > 1 ? `${one.name}: ${gap.words}` : gap.words;
      return { ...gap, words, kind, nucId: one.id };
    }
  }
  return undefined;
}

/** Every fact of the visit, or what is missing before it can be kept, in a sentence. */
export function factsOf(draft: Draft, nucs: readonly RememberedNuc[]): readonly Written[] | string {
  const gap = firstGap(draft, nucs);
  if (gap) return gap.words;
  return nucs.flatMap((one) =>
    draft.acts.map((kind) => {
      const form = formFor(kind, one.setup?.method);
      return { one, fact: toFact(kind, answersOf(draft, one, kind), form) };
    }),
  );
}
