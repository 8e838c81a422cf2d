/** The one way to the server. Answers are typed by the contract; whatever goes wrong is a `Trouble`. */
import type { OperationName, ResponseOf } from '../../server/contract/index.ts';
import type { Ask } from './request.ts';
import { requestFor } from './request.ts';
import { noAnswer, troubleOf } from './trouble.ts';

let csrf: string | null = null;
let onSignedOut: () => void = () => undefined;

/** The session's token, as `GET /me` gave it; it goes with every request that changes something. */
export function rememberCsrf(token: string | null): void {
  csrf = token;
}
export function whenSignedOut(then: () => void): void {
  onSignedOut = then;
}

export const pageBase = (): string => new URL('./', document.baseURI).href;

async function readJson(response: Response): Promise<unknown> {
  const text = await response.text();
  if (text === '') return undefined;
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}

/** Sends a file as it is, and gives what is answered; rejects as `call` does. Long patience: a backup on its way over a home network. */
export async function sendFile(
  path: string,
  type: string,
  file: Blob,
  more: Readonly<Record<string, string>> = {},
): Promise<unknown> {
  let response: Response;
  try {
    response = await fetch(new URL(`api/v1${path}`, pageBase()), {
      method: 'POST',
      headers: {
        Accept: 'application/json',
        'Content-Type': type,
        ...(csrf && { 'X-CSRF-Token': csrf }),
        ...more,
      },
      body: file,
      credentials: 'same-origin',
      cache: 'no-store',
      signal: AbortSignal.timeout(1_800_000),
    });
  } catch {
    throw noAnswer();
  }
  const answer = await readJson(response);
  if (!response.ok) throw troubleOf(response.status, answer);
  return answer;
}

interface Early {
  readonly answers: Record<string, Promise<Response>>;
  /** Resolved once all is asked that will be. */
  readonly asked: Promise<void>;
}
const early = (): Early | undefined => (globalThis as { welcombEarly?: Early }).welcombEarly;

/** What `early.ts` has asked for already; an answer is taken once, so that the next question is asked anew. */
function earlyAnswer(path: string): Promise<Response> | undefined {
  const answers = early()?.answers;
  const answer = answers?.[path];
  delete answers?.[path];
  return answer;
}
export const earlyAsked = async (): Promise<void> => early()?.asked;
/** What nobody took while the page was opened would be an old answer to a later question. */
export function forgetEarly(): void {
  delete (globalThis as { welcombEarly?: Early }).welcombEarly;
}

/** Rejects with a `Trouble`. A request that is not answered within `patienceMs` counts as not answered. */
export async function call<N extends OperationName>(
  name: N,
  ask: Ask<N>,
  patienceMs = 20_000,
): Promise<ResponseOf<N>> {
  const { method, path, body } = requestFor(name, ask);
  const headers: Record<string, string> = { Accept: 'application/json' };
  if (body !== undefined) headers['Content-Type'] = 'application/json';
  if (method !== 'GET' && csrf !== null) headers['X-CSRF-Token'] = csrf;
  let response: Response;
  try {
    response = await ((method === 'GET' && earlyAnswer(path)) ||
      fetch(new URL(path, pageBase()), {
        method,
        headers,
        ...(body === undefined ? {} : { body }),
        credentials: 'same-origin',
        cache: 'no-store',
        signal: AbortSignal.timeout(patienceMs),
      }));
  } catch {
    throw noAnswer();
  }
  const answer = await readJson(response);
  if (!response.ok) {
    const trouble = troubleOf(response.status, answer);
    if (trouble.kind === 'signed-out') onSignedOut();
    throw trouble;
  }
  return answer as ResponseOf<N>;
}
