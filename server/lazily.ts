/** Values that are worked out only where somebody asks for them. */

/** Computed at the first call, then kept. */
export function lazy<T>(compute: () => T): () => T {
  let kept: { readonly value: T } | undefined;
  return () => (kept ??= { value: compute() }).value;
}

type Later<L> = { readonly [Name in keyof L]: () => L[Name] };

const getters = new Map<string, PropertyDescriptor & ThisType<WithLater>>();

/** One getter a name: a getter in a literal makes each object a kind of its own to the engine, slow wherever it is read. */
function getterOf(name: string): PropertyDescriptor {
  let getter = getters.get(name);
  if (!getter) {
    getter = {
      enumerable: true,
      get() {
        return this.askFor(name);
      },
    };
    getters.set(name, getter);
  }
  return getter;
}

class WithLater {
  readonly #later: Readonly<Record<string, () => unknown>>;

  constructor(later: Readonly<Record<string, () => unknown>>) {
    this.#later = later;
    for (const name of Object.keys(later)) Object.defineProperty(this, name, getterOf(name));
  }

  askFor(name: string): unknown {
    return this.#later[name]?.();
  }
}

/** The properties of `now`, and those of `later`, each worked out whenever it is read. */
export const withLater = <T extends object, L extends object>(now: T, later: Later<L>): T & Readonly<L> =>
  Object.assign(new WithLater(later as Readonly<Record<string, () => unknown>>), now) as unknown as T &
    Readonly<L>;
