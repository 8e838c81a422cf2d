/** Sends what is in the queue whenever the server can be reached; nothing leaves the queue before it is stored. */
import { effect, signal } from '@preact/signals';
import { call } from '../api/client.ts';
import type { Posted } from '../api/facts.ts';
import { Trouble, wordsOf } from '../api/trouble.ts';
import { setAwaited } from '../state/awaited.ts';
import { nucsChanged } from '../state/farm.ts';
import { connection } from '../state/live.ts';
import { settle } from './settle.ts';
import type { Unsent } from './unsent.ts';
import { allUnsent, dropUnsent, putUnsent } from './queue.ts';

export const unsent = signal<readonly Unsent[]>([]);
export const sendTrouble = signal('');

/** At most so many at once: the contract takes 200. */
const batchSize = 50;
const everyMs = 15_000;
let sending: Promise<void> | undefined;
/** Entries that were sent and not answered: they may be stored. */
const unanswered = new Set<string>();
let started = false;

export async function refreshUnsent(): Promise<void> {
  try {
    unsent.value = await allUnsent();
    setAwaited(new Set(unsent.value.flatMap(({ nucId }) => nucId ?? [])));
  } catch (error) {
    sendTrouble.value = wordsOf(error);
  }
}

/** Kept first, sent then; resolves as soon as all of them are kept. Where that can't be, none is. */
export async function write(all: readonly Unsent[]): Promise<void> {
  await keep(all);
  void send();
}

async function keep(all: readonly Unsent[]): Promise<void> {
  await putUnsent(all);
  await refreshUnsent();
}

/**
 * Takes back what was just written: what never left this device is dropped, what is or may be stored is withdrawn by a
 * correction, which is sent after it.
 */
export async function undo(all: readonly Unsent[], newId: () => string, nowMs: number): Promise<void> {
  while (sending) await sending;
  // Nothing is sent meanwhile: what is dropped must not be on its way.
  sending = takeBack(all, newId, nowMs).finally(() => {
    sending = undefined;
  });
  await sending;
  void send();
}

async function takeBack(all: readonly Unsent[], newId: () => string, nowMs: number): Promise<void> {
  const waiting = new Set((await allUnsent()).map(({ entry }) => entry.id));
  const back: Unsent[] = [];
  for (const one of [...all].reverse()) {
    const { id, introductionId } = one.entry;
    if (waiting.has(id) && !unanswered.has(id)) await dropUnsent([id]);
    else {
      const at = { happenedAtMs: nowMs, writtenAtMs: nowMs + back.length };
      const entry = { id: newId(), introductionId, type: 'correction' as const, corrects: id, ...at };
      back.push({ ...one, entry, words: `Taken back: ${one.words}`, problems: [] });
    }
  }
  await keep(back);
}

export async function giveUp(id: string): Promise<void> {
  await dropUnsent([id]);
  await refreshUnsent();
}

/** A request with one entry that can't be read is refused whole: sent alone, it does not hold up the others. */
async function answerTo(batch: readonly Unsent[]): Promise<readonly Posted[]> {
  try {
    return (await call('postLog', { body: { entries: batch.map((one) => one.entry) } })).items;
  } catch (error) {
    if (!(error instanceof Trouble) || error.code !== 'invalid-input') throw error;
    const answers: Posted[] = [];
    for (const one of batch) {
      if (batch.length > 1) answers.push(...(await answerTo([one])));
      else {
        const problems = error.faults.map(({ detail }) => detail);
        answers.push({ id: one.entry.id, result: 'refused', problems });
      }
    }
    return answers;
  }
}

async function sendBatch(batch: readonly Unsent[]): Promise<void> {
  // A device that knows of no network sends nothing out.
  if (navigator.onLine) for (const { entry } of batch) unanswered.add(entry.id);
  const items = await answerTo(batch);
  for (const { entry } of batch) unanswered.delete(entry.id);
  const { stored, refused } = settle(batch, items);
  await dropUnsent(stored);
  await putUnsent(refused);
}

export function send(): Promise<void> {
  sending ??= sendAll().finally(() => {
    sending = undefined;
  });
  return sending;
}

/** For what may have changed since the try that runs began: it may be about to fail. */
export async function sendAfresh(): Promise<void> {
  while (sending) await sending;
  await send();
}

/** Also what is written while it runs; each entry is tried once. */
async function sendAll(): Promise<void> {
  const tried = new Set<string>();
  const nucIds = new Set<string>();
  const next = async (): Promise<readonly Unsent[]> =>
    (await allUnsent())
      .filter(({ entry, problems }) => problems.length === 0 && !tried.has(entry.id))
      .slice(0, batchSize);
  try {
    for (let batch = await next(); batch.length > 0; batch = await next()) {
      for (const { entry } of batch) tried.add(entry.id);
      await sendBatch(batch);
      for (const { nucId } of batch) nucIds.add(nucId ?? '');
    }
    sendTrouble.value = '';
  } catch (error) {
    sendTrouble.value = wordsOf(error);
  }
  await refreshUnsent();
  await Promise.all([...nucIds].map((id) => nucsChanged(id)));
}

export function startSending(): void {
  void send();
  if (started) return;
  started = true;
  addEventListener('online', () => void sendAfresh());
  setInterval(() => {
    if (unsent.peek().length > 0) void send();
  }, everyMs);
  effect(() => {
    if (connection.value === 'live') void sendAfresh();
  });
}
