/** What goes into a decoder and what comes out. */
import type { IncomingReading, LastKnown } from '../../server/store/port.ts';

export interface Message {
  readonly topic: string;
  readonly payload: Uint8Array;
  /** The broker replayed it: it was said before we asked. */
  readonly retain: boolean;
  readonly receivedAtMs: number;
}

/**
 * `readings` and `lastKnown` may come together with `quarantine`, where a part of the message was understood.
 * `ignored`: understood, and nothing to store.
 */
export interface Decoded {
  readonly readings: readonly IncomingReading[];
  readonly lastKnown: readonly LastKnown[];
  /** One sentence for the quarantine. */
  readonly quarantine?: string;
  readonly ignored?: string;
}

export const refused = (reason: string): Decoded => ({ readings: [], lastKnown: [], quarantine: reason });
export const ignored = (reason: string): Decoded => ({ readings: [], lastKnown: [], ignored: reason });

/** A result or one sentence that says why not. */
export type Read<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly reason: string };
export const read = <T>(value: T): Read<T> => ({ ok: true, value });
export const unread = (reason: string): { ok: false; reason: string } => ({ ok: false, reason });

const mostShown = 60;
const shownDepth = 3;
const shownItems = 8;

/** At most 60 characters of something a stranger sent, for a sentence. */
export function shown(value: unknown): string {
  const text = typeof value === 'string' ? value : brief(value, shownDepth);
  return text.length > mostShown ? `${text.slice(0, mostShown)}…` : text;
}

/** JSON as far as it can be seen in a sentence: however large or deep the value is, only its beginning is looked at. */
function brief(value: unknown, depth: number): string {
  if (typeof value === 'string') return JSON.stringify(value.slice(0, mostShown));
  if (typeof value !== 'object' || value === null) return String(value);
  const list = Array.isArray(value);
  const entries = list
    ? value.slice(0, shownItems).map((item: unknown) => ['', item] as const)
    : firstEntries(value);
  const parts = entries.map(([key, item]) => {
    const inner = depth === 0 ? '…' : brief(item, depth - 1);
    return list ? inner : `${brief(key, 0)}:${inner}`;
  });
  return list ? `[${parts.join(',')}]` : `{${parts.join(',')}}`;
}

function firstEntries(value: object): (readonly [string, unknown])[] {
  const entries: (readonly [string, unknown])[] = [];
  for (const key in value) {
    if (entries.length === shownItems) break;
    if (Object.hasOwn(value, key)) entries.push([key, (value as Readonly<Record<string, unknown>>)[key]]);
  }
  return entries;
}
