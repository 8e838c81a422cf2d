/** Names in the order that people count in: Nuc 3 before Nuc 21. */
const collator = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' });

export const byName = (a: string, b: string): number => collator.compare(a, b);
