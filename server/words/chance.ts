/** Chances and shares in per cent. Only what is certain reads as certain. */

/** A chance from 0 to 1: to a tenth under 10 %, and what is too small for a figure as less than the smallest that is told. */
export function chanceInWords(chance: number): string {
  if (chance < 0.005) return 'under 0.5 %';
  return chance < 0.0995 ? `${(100 * chance).toFixed(1)} %` : percentInWords(100 * chance);
}

/** Chances that stand beside the limit that they are held against: none reads as the limit that is not at it. */
export const chancesBeside =
  (limit: number) =>
  (chance: number): string =>
    besideLimit(chance, limit, chanceInWords);

/** Whole per cent of 0..100. */
export function percentInWords(value: number): string {
  if (value > 0 && value < 0.5) return 'under 1 %';
  if (value >= 99.5 && value < 100) return 'over 99 %';
  const text = value.toFixed(0).replace('-', '−');
  return `${text === '−0' ? '0' : text} %`;
}

/** What rounds to its limit is told as just over or under it. */
export function besideLimit(value: number, limit: number, inWords: (value: number) => string): string {
  const words = inWords(value);
  return value === limit || words !== inWords(limit)
    ? words
    : `just ${value < limit ? 'under' : 'over'} ${words}`;
}
