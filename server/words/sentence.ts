/** A main clause as a sentence: with a capital letter and a full stop. */
export const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
/** `1 flying day`, `3 flying days`. */
export const counted = (n: number, one: string): string => `${String(n)} ${one}${n === 1 ? '' : 's'}`;
