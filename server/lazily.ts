/** Values that are worked out only where somebody asks for them. */

/** Computed at the first call, then kept. */
export function lazy<T>(compute: () => T): () => T {
  let kept: { readonly value: T } | undefined;
  return () => (kept ??= { value: compute() }).value;
}

type Later<L> = { readonly [Name in keyof L]: () => L[Name] };

/** The properties of `now`, and those of `later`, each worked out whenever it is read. */
export function withLater<T extends object, L extends object>(now: T, later: Later<L>): T & Readonly<L> {
  const all = { ...now };
  for (const [name, get] of Object.entries(later))
    Object.defineProperty(all, name, { enumerable: true, get: get as () => unknown });
  return all as T & Readonly<L>;
}
