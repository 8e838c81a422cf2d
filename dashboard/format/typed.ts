/** What somebody typed. Pure. */

/** What this browser is set to. */
const hasDecimalComma = (): boolean =>
  new Intl.NumberFormat().formatToParts(0.5).some(({ type, value }) => type === 'decimal' && value === ',');

/** `1,234`: a thousand and more to one reader, one and a bit to another. */
const isAmbiguous = (text: string): boolean => /^[+-]?[1-9]\d{0,2},\d{3}$/.test(text.trim());

/** With a point or a comma; NaN where it is no number, or may be either of two. */
export function typedNumber(text: string, comma = hasDecimalComma()): number {
  if (text.trim() === '' || (!comma && isAmbiguous(text))) return Number.NaN;
  return Number(text.replace(',', '.'));
}

/** How to write it, where it can be read in two ways. */
export function numberFault(text: string, comma = hasDecimalComma()): string | undefined {
  if (comma || !isAmbiguous(text)) return undefined;
  const typed = text.trim();
  return `Write ${typed.replace(',', '')} or ${typed.replace(',', '.')}: the comma can mean either.`;
}

/** Trimmed, without those in which nothing stands: the contract takes no empty texts. */
export function filled<K extends string>(
  texts: Readonly<Record<K, string>>,
): { readonly [key in K]?: string } {
  const pairs = Object.entries<string>(texts).map(([key, text]) => [key, text.trim()] as const);
  return Object.fromEntries(pairs.filter(([, text]) => text !== '')) as { readonly [key in K]?: string };
}
