/** What somebody typed. Pure. */

/** With a point or a comma; NaN where it is no number. */
export const typedNumber = (text: string): number =>
  text.trim() === '' ? Number.NaN : Number(text.replace(',', '.'));

/** Trimmed, without those in which nothing stands: the contract takes no empty texts. */
export function filled<K extends string>(
  texts: Readonly<Record<K, string>>,
): { readonly [key in K]?: string } {
  const pairs = Object.entries<string>(texts).map(([key, text]) => [key, text.trim()] as const);
  return Object.fromEntries(pairs.filter(([, text]) => text !== '')) as { readonly [key in K]?: string };
}
