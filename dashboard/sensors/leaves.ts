/** The single values inside a JSON message, each with its JSON Pointer (RFC 6901). Pure. */

export interface Leaf {
  readonly pointer: string;
  readonly value: string | number | boolean | null;
}

const escaped = (key: string): string => key.replaceAll('~', '~0').replaceAll('/', '~1');
const most = 200;

function walk(value: unknown, pointer: string, found: Leaf[]): void {
  if (found.length >= most) return;
  if (typeof value === 'object' && value !== null) {
    for (const [key, inner] of Object.entries(value)) walk(inner, `${pointer}/${escaped(key)}`, found);
    return;
  }
  if (value === undefined) return;
  found.push({ pointer, value: value as Leaf['value'] });
}

/** Undefined where the text is not JSON. A plain number is one leaf at the root. */
export function leavesOf(payload: string): readonly Leaf[] | undefined {
  try {
    const found: Leaf[] = [];
    walk(JSON.parse(payload), '', found);
    return found;
  } catch {
    return undefined;
  }
}

/** Numbers, also those that a device sends as text. */
export function numberIn(leaf: Leaf): number | undefined {
  if (typeof leaf.value === 'number') return leaf.value;
  if (typeof leaf.value !== 'string' || leaf.value.trim() === '') return undefined;
  const value = Number(leaf.value);
  return Number.isFinite(value) ? value : undefined;
}
