/**
 * Who watches the watcher: a regular call to an address outside, by which somebody notices a dead
 * server. It is only made while the server is well, so that a sick one falls silent too.
 */
import { post } from './post.ts';
import { isCallable } from './recipient.ts';
import type { Sent } from './sender.ts';

/** How it stands with the calls since the start. */
export interface Heartbeat {
  readonly sentAtMs: number | null;
  /** Why the last one was not sent, in one sentence; null where it was, or none was due yet. */
  readonly problem: string | null;
}

export async function beat(url: string, whyNot: string | null, timeoutMs = 15_000): Promise<Sent> {
  if (whyNot !== null) return { ok: false, detail: `No heartbeat was sent: ${whyNot}`, final: false };
  if (!isCallable(url))
    return { ok: false, detail: 'The heartbeat address has to be an http or https address.', final: true };
  return post({ url, method: 'GET', timeoutMs });
}
