/** A main clause as a sentence: with a capital letter and a full stop. */
export const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
