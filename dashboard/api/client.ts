/** The one way to the server. Answers are typed by the contract; whatever goes wrong is a `Trouble`. */
import type { OperationName, ResponseOf } from '../../server/contract/index.ts';
import type { Ask } from './request.ts';
import { requestFor } from './request.ts';
import { noAnswer, Trouble, troubleOf } from './trouble.ts';

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

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}

const ask = (path: string, patienceMs: number, more: RequestInit): Promise<Response> =>
  fetch(new URL(path, pageBase()), {
    ...more,
    credentials: 'same-origin',
    cache: 'no-store',
    signal: AbortSignal.timeout(patienceMs),
  });

/** What is answered, as JSON. Rejects with a `Trouble`, also where the answer breaks off or is another program's. */
async function answerTo(asked: Promise<Response>): Promise<unknown> {
  let response: Response;
  let text: string;
  try {
    response = await asked;
    text = await response.text();
  } catch {
    throw noAnswer();
  }
  const answer = parsed(text);
  if (!response.ok) throw troubleOf(response.status, answer);
  // A network that wants a sign-in of its own answers everything with its page.
  if (answer === undefined && response.status !== 204) throw noAnswer();
  return answer;
}

/** Sends a file as it is, and gives what is answered; rejects as `call` does. Long patience: a backup on its way over a home network. */
export async function sendFile(
  path: string,
  type: string,
  file: Blob,
  more: Readonly<Record<string, string>> = {},
): Promise<unknown> {
  return answerTo(
    ask(`api/v1${path}`, 1_800_000, {
      method: 'POST',
      headers: {
        Accept: 'application/json',
        'Content-Type': type,
        ...(csrf && { 'X-CSRF-Token': csrf }),
        ...more,
      },
      body: file,
    }),
  );
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
  question: Ask<N>,
  patienceMs = 20_000,
): Promise<ResponseOf<N>> {
  const { method, path, body } = requestFor(name, question);
  const headers: Record<string, string> = { Accept: 'application/json' };
  if (body !== undefined) headers['Content-Type'] = 'application/json';
  if (method !== 'GET' && csrf !== null) headers['X-CSRF-Token'] = csrf;
  const asked =
    (method === 'GET' && earlyAnswer(path)) ||
    ask(path, patienceMs, { method, headers, ...(body === undefined ? {} : { body }) });
  try {
    return (await answerTo(asked)) as ResponseOf<N>;
  } catch (error) {
    if (error instanceof Trouble && error.kind === 'signed-out') onSignedOut();
    throw error;
  }
}

/** For what a request makes: sent twice, it makes one. `crypto.randomUUID` is missing over plain HTTP; random bytes are not. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
