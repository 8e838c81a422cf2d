/** What a schema found wrong with a value, in plain words that follow its place and a colon. Pure. */
import type * as z from 'zod';

type Issue = z.core.$ZodRawIssue;

const nouns: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  record: 'an object',
  null: 'null',
};
const examples: Readonly<Record<string, string>> = {
  datetime: 'a time such as 2026-05-14T06:00:00Z',
  date: 'a day such as 2026-05-14',
  url: 'an address such as https://example.org',
};

const nounOf = (value: unknown): string =>
  value === null ? 'null' : Array.isArray(value) ? 'a list' : (nouns[typeof value] ?? 'something else');

function mistaken(expected: string, input: unknown): string {
  const wanted = nouns[expected] ?? expected;
  if (input === undefined) return `it is missing; ${wanted} is wanted`;
  if (expected === 'int' && typeof input === 'number') return 'a whole number is wanted';
  // From an address or a query, where everything is text at first.
  if (expected === 'number' && typeof input === 'number') return 'a number is wanted';
  return `${wanted} is wanted, not ${nounOf(input)}`;
}

/** ` characters`, ` entries`, or nothing after a number. */
const unitOf = (origin: string, many: number | bigint): string => {
  if (origin === 'string') return Number(many) === 1 ? ' character' : ' characters';
  return origin === 'array' ? (Number(many) === 1 ? ' entry' : ' entries') : '';
};

/** Undefined where the schema library's own words do. A schema that words its fault itself is never asked. */
export function faultInWords(issue: Issue): string | undefined {
  switch (issue.code) {
    case 'invalid_type':
      return mistaken(issue.expected, issue.input);
    case 'too_small':
      return issue.inclusive === false
        ? `more than ${String(issue.minimum)} is wanted`
        : `at least ${String(issue.minimum)}${unitOf(issue.origin, issue.minimum)} wanted`;
    case 'too_big':
      return issue.inclusive === false
        ? `less than ${String(issue.maximum)} is wanted`
        : `at most ${String(issue.maximum)}${unitOf(issue.origin, issue.maximum)} wanted`;
    case 'not_multiple_of':
      return `a multiple of ${String(issue.divisor)} is wanted`;
    case 'invalid_format': {
      const example = examples[issue.format];
      return example && `${example} is wanted`;
    }
    case 'unrecognized_keys':
      return `not known here: ${issue.keys.join(', ')}`;
    case 'invalid_value':
      return issue.input === undefined
        ? `it is missing; wanted: ${issue.values.map(String).join(', ')}`
        : issue.values.length === 1
          ? `${String(issue.values[0])} is wanted`
          : `one of these is wanted: ${issue.values.map(String).join(', ')}`;
    case 'invalid_union':
      return 'it is of no kind that is known';
    default:
      return undefined;
  }
}
