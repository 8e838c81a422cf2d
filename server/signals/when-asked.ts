/** Works that are done when they are first asked for, and never again. */

export function once<T>(work: () => T): () => T {
  let todo: (() => T) | undefined = work;
  let result: T | undefined;
  return () => {
    if (todo) {
      result = todo();
      // What it was worked out from is let go.
      todo = undefined;
    }
    return result as T;
  };
}

/** An object whose properties are worked out when they are first read. A copy by spreading reads them all, and is plain. */
export function whenAsked<T extends object>(works: { readonly [K in keyof T]: () => T[K] }): T {
  const properties: PropertyDescriptorMap = {};
  for (const name of Object.keys(works) as (keyof T & string)[])
    properties[name] = { enumerable: true, get: once(works[name]) };
  return Object.defineProperties({}, properties) as T;
}
