/** The whole server in this process, with a clock that tests set: for what unfolds over days. */
import { pino } from 'pino';
import type { FactPayload, LogEntry } from '../../server/introduction/log/facts.ts';
import type { ResponseOf } from '../../server/contract/index.ts';
import { runServer } from '../../server/run.ts';
import type { Store } from '../../server/store/store.ts';
import { parseSettings } from '../../server/settings.ts';
import { dropFolder, newFolder } from './server-process.ts';

export interface Answer<T> {
  readonly status: number;
  readonly body: T;
  /** The sentence of a problem document; empty where there is none. */
  readonly detail: string;
}

export interface FarmServer {
  readonly url: string;
  readonly store: Store;
  /** Sets the server's clock; it never goes back. */
  at(nowMs: number): void;
  get<T>(path: string): Promise<T>;
  /** Any answer, refusals included. */
  ask<T = unknown>(method: string, path: string, body?: unknown): Promise<Answer<T>>;
  /** Throws where the answer is a refusal. */
  send<T>(method: string, path: string, body?: unknown): Promise<T>;
  /** Writes one fact at the server's now, or at an earlier instant; the id is given by the caller or made up. */
  log(introductionId: string, fact: FactPayload, happenedAtMs?: number, id?: string): Promise<LogAnswer>;
  stop(): Promise<void>;
}
type LogAnswer = ResponseOf<'postLog'>['items'][number];

export async function startFarm(startMs: number): Promise<FarmServer> {
  const data = newFolder();
  const parsed = parseSettings(
    ['--data', data, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0'],
    {},
    () => '',
  );
  if (!parsed.ok) throw new Error(parsed.message);
  let nowMs = startMs;
  const running = await runServer(parsed.settings, { clock: () => nowMs, log: pino({ level: 'silent' }) });
  let made = 0;

  async function ask<T>(method: string, path: string, body?: unknown): Promise<Answer<T>> {
    const response = await fetch(`${running.http}/api/v1${path}`, {
      method,
      headers: { 'content-type': 'application/json', origin: new URL(running.http).origin },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const text = await response.text();
    const answer = text === '' ? undefined : (JSON.parse(text) as unknown);
    const detail = response.ok ? '' : ((answer as { detail?: string } | undefined)?.detail ?? '');
    return { status: response.status, body: answer as T, detail };
  }
  async function send<T>(method: string, path: string, body?: unknown): Promise<T> {
    const answer = await ask<T>(method, path, body);
    if (answer.status >= 300) throw new Error(`${method} ${path}: ${String(answer.status)} ${answer.detail}`);
    return answer.body;
  }

  return {
    url: running.http,
    store: running.store,
    at: (ms) => {
      nowMs = ms;
    },
    ask,
    send,
    get: (path) => send('GET', path),
    async log(introductionId, fact, happenedAtMs = nowMs, id = `made-up-entry-${String((made += 1))}`) {
      const entry: LogEntry = { id, introductionId, type: 'fact', happenedAtMs, writtenAtMs: nowMs, fact };
      const { items } = await send<ResponseOf<'postLog'>>('POST', '/log', { entries: [entry] });
      const [item] = items;
      if (!item) throw new Error('the log answered nothing');
      return item;
    },
    async stop() {
      await running.stop();
      dropFolder(data);
    },
  };
}
