/** One HTTP request with a time limit; the outcome is a sentence: for webhooks and the heartbeat. */
import type { Sent } from './sender.ts';

export interface Post {
  readonly url: string;
  readonly method: 'GET' | 'POST';
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array<ArrayBuffer>;
  readonly timeoutMs: number;
}

/** Busy, too early, too many, or the server's own trouble: worth another try. */
const passing = (status: number): boolean => status >= 500 || [408, 425, 429].includes(status);

export async function post({ url, method, headers, body, timeoutMs }: Post): Promise<Sent> {
  // Paths and queries of such addresses often hold a token, so only the host is ever named.
  const { host } = new URL(url);
  try {
    const answer = await fetch(url, {
      method,
      headers: { 'user-agent': 'welcomb', ...headers },
      ...(body !== undefined && { body }),
      redirect: 'manual',
      signal: AbortSignal.timeout(timeoutMs),
    });
    await answer.body?.cancel();
    if (answer.ok) return { ok: true, detail: `${host} answered ${String(answer.status)}` };
    const retryAfterMs = retryAfter(answer.headers.get('retry-after'));
    return {
      ok: false,
      detail: `${host} answered ${String(answer.status)} ${answer.statusText}`.trim(),
      final: !passing(answer.status),
      status: answer.status,
      ...(retryAfterMs !== null && { retryAfterMs }),
    };
  } catch (error) {
    return { ok: false, detail: `${host} could not be reached: ${causeOf(error)}`, final: false };
  }
}

/** RFC 9110 §10.2.3, in its form with seconds. */
function retryAfter(header: string | null): number | null {
  return header !== null && /^\d{1,6}$/.test(header) ? Number(header) * 1000 : null;
}

function causeOf(error: unknown): string {
  if (!(error instanceof Error)) return 'no connection';
  if (error.name === 'TimeoutError') return 'it did not answer in time';
  const { cause } = error;
  if (!(cause instanceof Error)) return 'no connection';
  return 'code' in cause ? String(cause.code) : cause.message;
}
