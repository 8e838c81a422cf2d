/** JSON Pointer (RFC 6901): one value inside a JSON document. */
import { read, shown, unread, type Read } from './message.ts';

const form = /^(?:\/(?:[^~/]|~[01])*)*$/;
const arrayIndex = /^(?:0|[1-9]\d*)$/;

export const isPointer = (text: string): boolean => form.test(text);

/** `~1` before `~0`, so that `~01` stays `~1` (§4). */
function tokensOf(pointer: string): readonly string[] {
  return pointer
    .split('/')
    .slice(1)
    .map((token) => token.replaceAll('~1', '/').replaceAll('~0', '~'));
}

function step(value: unknown, token: string): Read<unknown> {
  if (Array.isArray(value)) {
    // "-" names the element after the last, which never exists for a reader.
    const found = arrayIndex.test(token) && Number(token) < value.length;
    return found ? read(value[Number(token)] as unknown) : unread(`no element ${shown(token)}`);
  }
  if (typeof value === 'object' && value !== null && Object.hasOwn(value, token)) {
    return read((value as Readonly<Record<string, unknown>>)[token]);
  }
  return unread(`no member "${shown(token)}"`);
}

/** The value that `pointer` names; fails with a sentence where the pointer is malformed or leads nowhere. */
export function atPointer(document: unknown, pointer: string): Read<unknown> {
  if (!isPointer(pointer)) return unread(`"${shown(pointer)}" is not a JSON Pointer; it starts with /`);
  let value = document;
  for (const token of tokensOf(pointer)) {
    const next = step(value, token);
    if (!next.ok) return unread(`${shown(pointer)}: ${next.reason}`);
    value = next.value;
  }
  return read(value);
}
