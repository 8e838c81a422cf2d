/** A thread of `replay-worker-pool.ts`: one nuc in, what a replay of it found out. */
import { parentPort } from 'node:worker_threads';
import { openStore, type Store } from '../store/store.ts';
import type { ReplayDone, ReplayGiven } from './replay-worker-pool.ts';
import { replayTask, sharedOf, type ReplayShared } from './replay-task.ts';

let opened: { readonly store: Store; readonly shared: ReplayShared } | undefined;

function open(file: string) {
  const store = openStore({ file, readonly: true, nowMs: Date.now });
  return { store, shared: sharedOf(store) };
}

parentPort?.on('message', ({ file, index, task }: ReplayGiven) => {
  const { store, shared } = (opened ??= open(file));
  parentPort?.postMessage({ index, answer: replayTask(store, task, shared) } satisfies ReplayDone);
});
