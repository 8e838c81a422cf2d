/** Why a request came to nothing, in a sentence that can be shown. */
import type { Problem } from '../../server/contract/common.ts';

export type TroubleKind = 'no-answer' | 'signed-out' | 'refused' | 'failed';

export class Trouble extends Error {
  override readonly name = 'Trouble';
  readonly kind: TroubleKind;
  /** What the server says is wrong with single fields, by JSON Pointer. */
  readonly faults: readonly { readonly pointer: string; readonly detail: string }[];

  /** The server's stable code, where it gave one. */
  readonly code: Problem['type'] | undefined;

  constructor(kind: TroubleKind, message: string, faults: Trouble['faults'] = [], code?: Problem['type']) {
    super(message);
    this.kind = kind;
    this.faults = faults;
    this.code = code;
  }
}

export const noAnswer = (): Trouble =>
  new Trouble('no-answer', 'The server does not answer. It may be off, or this device has no signal.');

/** From a status and an RFC 9457 body (or anything else that a proxy may have sent instead). */
export function troubleOf(status: number, body: unknown): Trouble {
  const problem = isProblem(body) ? body : undefined;
  const words = problem?.detail ?? problem?.title ?? `The server answered with status ${String(status)}.`;
  if (status === 401) return new Trouble('signed-out', words);
  if (status === 502 || status === 504) return noAnswer();
  return new Trouble(status < 500 ? 'refused' : 'failed', words, problem?.errors ?? [], problem?.type);
}

function isProblem(body: unknown): body is Problem {
  return typeof body === 'object' && body !== null && 'title' in body && 'status' in body;
}

export const wordsOf = (error: unknown): string =>
  error instanceof Error ? error.message : 'Something went wrong in this page.';
