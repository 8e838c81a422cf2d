/** Sends what is in the queue whenever the server can be reached; nothing leaves the queue before it is stored. */
import { effect, signal } from '@preact/signals';
import { call } from '../api/client.ts';
import type { Trouble } from '../api/trouble.ts';
import { wordsOf } from '../api/trouble.ts';
import { nearPlan, nucs } from '../state/farm.ts';
import { connection } from '../state/live.ts';
import { settle } from './settle.ts';
import type { Unsent } from './unsent.ts';
import { allUnsent, dropUnsent, putUnsent } from './queue.ts';

export const unsent = signal<readonly Unsent[]>([]);
export const sendTrouble = signal('');

/** At most so many at once: the contract takes 200. */
const batchSize = 50;
const everyMs = 15_000;
let sending = false;
let started = false;

export async function refreshUnsent(): Promise<void> {
  try {
    unsent.value = await allUnsent();
  } catch (error) {
    sendTrouble.value = wordsOf(error);
  }
}

/** Kept first, sent then; resolves as soon as it is kept. */
export async function write(one: Unsent): Promise<void> {
  await putUnsent(one);
  await refreshUnsent();
  void send();
}

export async function giveUp(id: string): Promise<void> {
  await dropUnsent(id);
  await refreshUnsent();
}

async function sendBatch(batch: readonly Unsent[]): Promise<void> {
  const { items } = await call('postLog', { body: { entries: batch.map((one) => one.entry) } });
  const { stored, refused } = settle(batch, items);
  for (const id of stored) await dropUnsent(id);
  for (const one of refused) await putUnsent(one);
}

export async function send(): Promise<void> {
  if (sending) return;
  sending = true;
  try {
    const waiting = (await allUnsent()).filter((one) => one.problems.length === 0);
    for (let i = 0; i < waiting.length; i += batchSize) await sendBatch(waiting.slice(i, i + batchSize));
    sendTrouble.value = '';
    if (waiting.length > 0) await Promise.all([nucs.reload(), nearPlan.reload()]);
  } catch (error) {
    sendTrouble.value = (error as Trouble).message;
  } finally {
    sending = false;
    await refreshUnsent();
  }
}

export function startSending(): void {
  void send();
  if (started) return;
  started = true;
  addEventListener('online', () => void send());
  setInterval(() => {
    if (unsent.peek().length > 0) void send();
  }, everyMs);
  effect(() => {
    if (connection.value === 'live') void send();
  });
}
