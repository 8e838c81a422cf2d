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
  /** One sentence for the quarantine tray. */
  readonly quarantine?: string;
  readonly ignored?: string;
}

export const refused = (reason: string): Decoded => ({ readings: [], lastKnown: [], quarantine: reason });
export const ignored = (reason: string): Decoded => ({ readings: [], lastKnown: [], ignored: reason });

/** A result or one sentence that says why not. */
export type Read<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly reason: string };
export const read = <T>(value: T): Read<T> => ({ ok: true, value });
export const unread = (reason: string): { ok: false; reason: string } => ({ ok: false, reason });

/** At most 60 characters of something a stranger sent, for a sentence. */
export function shown(value: unknown): string {
  const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value));
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}
