/** The thread of `replay-nucs.ts`: one nuc in, what a replay of it found out. */
import { parentPort, workerData } from 'node:worker_threads';
import { openStore } from '../store/store.ts';
import { replayTask, sharedOf, type ReplayDone, type ReplayGiven } from './replay-nucs.ts';

const store = openStore({ file: String(workerData), readonly: true, nowMs: Date.now });
const shared = sharedOf(store);

parentPort?.on('message', ({ index, task }: ReplayGiven) => {
  parentPort?.postMessage({ index, answer: replayTask(store, task, shared) } satisfies ReplayDone);
});
