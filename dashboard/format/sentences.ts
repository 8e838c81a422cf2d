/** The first thing that a text says, and what comes after it. Pure. */

export interface HeadAndRest {
  readonly head: string;
  readonly rest: string;
}

/** More than this is no heading. */
const mostWords = 8;
const begins = /^(before|after|by|at|on|if|when|until|as)\b/i;
const wordsIn = (text: string): number => text.split(/\s+/).length;
const capital = (text: string): string => text.charAt(0).toLocaleUpperCase() + text.slice(1);

/**
 * `Warm it now: insulate the lid.` → `Warm it now`, `Insulate the lid.` The first sentence where it is short; else what
 * stands before its first colon, semicolon or comma, unless that only says when; else the sentence whole.
 */
export function headAndRest(text: string): HeadAndRest {
  const end = /[.!?](?=\s|$)/.exec(text);
  const first = end ? text.slice(0, end.index) : text;
  const after = end ? text.slice(end.index + 1).trim() : '';
  if (wordsIn(first) <= mostWords && !first.includes(':')) return { head: first, rest: after };
  const at = [...first.matchAll(/[:;,] /g)].find(({ index }) => {
    const before = first.slice(0, index);
    return wordsIn(before) <= mostWords && wordsIn(before) > 1 && !begins.test(before);
  });
  if (!at) return { head: first, rest: after };
  const rest = `${capital(first.slice(at.index + 2))}${end ? end[0] : ''}`;
  return { head: first.slice(0, at.index), rest: [rest, after].filter(Boolean).join(' ') };
}

export const lowerFirst = (text: string): string => text.charAt(0).toLocaleLowerCase() + text.slice(1);

/** `Not in this weather` → `not yet: not in this weather`, after the act that it bars. */
export const notYet = (reason: string): string => `not yet: ${lowerFirst(reason)}`;

/** Up to and with its full stop; a point within a number ends nothing. */
export const firstSentence = (text: string): string => /^.*?[.!?](?=\s|$)/.exec(text)?.[0] ?? text;
