/** JSON that came from outside, refused before it is parsed where what reads it could run out of stack. */

/** Deeper than anything that a sensor, a page or an export says. */
export const mostNested = 64;
export const nestedTooDeep = `it is nested more than ${String(mostNested)} deep`;

const quote = 0x22;
const backslash = 0x5c;
const opening = new Set([0x5b, 0x7b]);
const closing = new Set([0x5d, 0x7d]);

/** Whether JSON text opens more than `mostNested` arrays and objects inside one another. Reads it once, with no stack. */
export function isNestedTooDeep(text: string): boolean {
  let depth = 0;
  let inString = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (inString) {
      if (code === backslash) at += 1;
      else if (code === quote) inString = false;
    } else if (code === quote) inString = true;
    else if (opening.has(code)) {
      depth += 1;
      if (depth > mostNested) return true;
    } else if (closing.has(code)) depth -= 1;
  }
  return false;
}

export type ParsedJson =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly why: 'nested' | 'not JSON' };

/** The value, or why there is none. Never throws. */
export function parseJson(text: string): ParsedJson {
  if (isNestedTooDeep(text)) return { ok: false, why: 'nested' };
  try {
    return { ok: true, value: JSON.parse(text) as unknown };
  } catch {
    return { ok: false, why: 'not JSON' };
  }
}
