/** Computed at the first call, then kept. */
export function lazy<T>(compute: () => T): () => T {
  let kept: { readonly value: T } | undefined;
  return () => (kept ??= { value: compute() }).value;
}
