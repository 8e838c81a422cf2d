/** Between the answers of a form and the fact that is sent. Pure. */
import type { Fact, FactKind } from '../api/facts.ts';
import type { Form, FormField, Value, Values } from './forms/fields.ts';
import { cellKeys } from './forms/fields.ts';
import { forms } from './forms/index.ts';

const answered = (value: Value | undefined): value is Value => value !== undefined && value !== '';

/** What goes into the fact; nothing for an answer that was left open, unless the log takes no gap there. */
function sentValue({ type, unsent }: FormField, value: Value | undefined): Value | undefined {
  if (type === 'seen' && value === false) return unsent;
  return answered(value) ? value : unsent;
}

/** Some questions come only after another was answered so, and that one was asked itself. */
export function askedOf(fields: readonly FormField[], values: Values): readonly FormField[] {
  const isAsked = ({ onlyIf }: FormField): boolean => {
    if (onlyIf === undefined) return true;
    const before = fields.find(({ key }) => key === onlyIf.key);
    return values[onlyIf.key] === onlyIf.is && before !== undefined && isAsked(before);
  };
  return fields.filter(isAsked);
}

export function toFact(kind: FactKind, values: Values, form: Form = forms[kind]): Fact {
  const fact: Record<string, unknown> = { kind, ...form.given };
  for (const field of askedOf(form.fields, values)) {
    const [outer = '', inner] = field.key.split('.');
    const value = sentValue(field, values[field.key]);
    if (inner !== undefined) fact[outer] ??= {};
    if (value === undefined) continue;
    if (inner === undefined) fact[outer] = value;
    else fact[outer] = { ...(fact[outer] as object), [inner]: value };
  }
  return fact as unknown as Fact;
}

/** The answers that would send this fact: for correcting it. */
export function fromFact(fact: Fact): Values {
  const values: Record<string, Value> = {};
  for (const field of forms[fact.kind].fields) {
    const [outer = '', inner] = field.key.split('.');
    const whole = (fact as unknown as Record<string, unknown>)[outer];
    const value = inner === undefined ? whole : (whole as Record<string, unknown> | undefined)?.[inner];
    const isValue = typeof value === 'number' || typeof value === 'boolean' || typeof value === 'string';
    const saysNothing = field.type === 'choice' && value === field.unsent;
    if (isValue && !saysNothing) values[field.key] = value;
  }
  return values;
}

export interface Gap {
  readonly key: string;
  /** What to do about it, in a sentence. */
  readonly words: string;
}

/** The first answer that is still missing before it can be kept; undefined where none is. */
export function gapIn(kind: FactKind, values: Values, form: Form = forms[kind]): Gap | undefined {
  const lacks = form.fields.find(({ key, needed }) => needed !== undefined && !answered(values[key]));
  if (lacks?.needed !== undefined) return { key: lacks.key, words: lacks.needed };
  if (kind === 'split-made' && values['framesOfBees'] === 0) {
    return { key: 'framesOfBees', words: 'A split has bees: count the frames that they cover.' };
  }
  const uncounted = cellKeys.find((key) => !answered(values[key]));
  if (values['everyFrameChecked'] === true && uncounted !== undefined) {
    return {
      key: uncounted,
      words: 'Every frame was checked: count each kind of cell, or press “No cells” or “No others”.',
    };
  }
  if (kind === 'looked-for-queen' && values['queenSeen'] === false && !answered(values['eggsSeen'])) {
    return { key: 'eggsSeen', words: 'You did not see her: say whether you saw eggs.' };
  }
  if (kind === 'gate-overridden' && String(values['reason'] ?? '').trim().length < 3) {
    return { key: 'reason', words: 'Say why in a few words.' };
  }
  return undefined;
}

/** What is still missing, in a sentence. */
export const missing = (kind: FactKind, values: Values, form?: Form): string | undefined =>
  gapIn(kind, values, form)?.words;

/** For the list of what is unsent. */
export function inFewWords(fact: Fact): string {
  const { title } = forms[fact.kind];
  if (fact.kind !== 'cells-cut' && fact.kind !== 'inspection') return title;
  const counts = Object.entries(cellWords).flatMap(([key, words]) => {
    const count = (fact.cells as Readonly<Record<string, number | undefined>>)[key];
    return count === undefined ? [] : [`${String(count)} ${words}`];
  });
  return counts.length === 0 ? title : `${title}: ${counts.join(', ')}`;
}

const cellWords: Readonly<Record<string, string>> = { open: 'open', sealed: 'sealed', emerged: 'emerged' };
