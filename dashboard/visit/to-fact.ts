/** Between the values of a form and the fact that is sent. Pure. */
import type { Fact, FactKind } from '../api/facts.ts';
import type { FormField, Value, Values } from './forms.ts';
import { forms } from './forms.ts';

export function usualValues(kind: FactKind, snapshot: Values = {}): Values {
  const values: Record<string, Value> = {};
  for (const field of forms[kind].fields) values[field.key] = snapshot[field.key] ?? field.usual;
  return values;
}

/** Not told: an answer that was left open is left out, not sent as a zero or an empty word. */
function leftOut(field: FormField, value: Value): boolean {
  if (value === '') return true;
  return 'optional' in field && field.optional === true && value === 0;
}

export function toFact(kind: FactKind, values: Values): Fact {
  const fact: Record<string, unknown> = { kind };
  for (const field of forms[kind].fields) {
    const value = values[field.key] ?? field.usual;
    if (leftOut(field, value)) continue;
    const [outer = '', inner] = field.key.split('.');
    if (inner === undefined) fact[outer] = value;
    else fact[outer] = { ...(fact[outer] as object | undefined), [inner]: value };
  }
  return fact as unknown as Fact;
}

/** The values of a form that would send this fact: for correcting it. */
export function fromFact(fact: Fact): Values {
  const values: Record<string, Value> = {};
  for (const field of forms[fact.kind].fields) {
    const [outer = '', inner] = field.key.split('.');
    const whole = (fact as unknown as Record<string, unknown>)[outer];
    const value = inner === undefined ? whole : (whole as Record<string, unknown> | undefined)?.[inner];
    const snapshot = typeof value === 'number' || typeof value === 'boolean' || typeof value === 'string';
    values[field.key] = snapshot
      ? value
      : field.type === 'choice' || field.type === 'words'
        ? ''
        : field.type === 'yes'
          ? false
          : 0;
  }
  return values;
}

/** What is still missing before it can be kept, in a sentence; undefined when nothing is. */
export function missing(kind: FactKind, values: Values): string | undefined {
  if ((kind === 'queen-arrived' || kind === 'cage-hung') && String(values['queenId'] ?? '').trim() === '') {
    return 'Say which queen it is: a name or number that you give her.';
  }
  if (kind === 'gate-overridden' && String(values['reason'] ?? '').trim().length < 3) {
    return 'Say why in a few words.';
  }
  return undefined;
}

/** For the list of what is unsent. */
export function inFewWords(fact: Fact): string {
  const { title } = forms[fact.kind];
  if (fact.kind === 'cells-cut' || fact.kind === 'inspection') {
    const { open = 0, sealed = 0, emerged = 0 } = fact.cells;
    return `${title}: ${String(open)} open, ${String(sealed)} sealed, ${String(emerged)} emerged`;
  }
  return title;
}
