/** Replays of many nucs, shared out among threads: one nuc tells nothing of another. */
import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import type { ResponseOf } from '../http/contract/index.ts';
import { AlertBook } from '../overview/alert-book.ts';
import { PastBatches } from '../overview/past-batch.ts';
import { replayNuc } from '../overview/replay-nuc.ts';
import type { LimitChoices } from '../rules/limits.ts';
import { rules as allRules } from '../rules/registry.ts';
import { threadBeside } from '../store/own-thread.ts';
import type { Store } from '../store/store.ts';

export type ReplayAnswer = ResponseOf<'replay'>;

/** One nuc to replay; plain, so that it can be handed to a thread. */
export interface ReplayTask {
  readonly nucId: string;
  readonly from: string;
  readonly to: string;
  readonly limits: LimitChoices;
  /** All rules where absent. */
  readonly ruleIds?: readonly string[];
}

/** What all replays of one store rest on. */
export const sharedOf = (store: Store) => ({ book: new AlertBook(store), batches: new PastBatches(store) });
type ReplayShared = ReturnType<typeof sharedOf>;

/** Undefined where there is no such nuc. */
export function replayTask(
  store: Store,
  { ruleIds, ...asked }: ReplayTask,
  shared: ReplayShared = sharedOf(store),
): ReplayAnswer | undefined {
  return replayNuc({ store, ...shared }, asked, ruleIds && allRules.filter(({ id }) => ruleIds.includes(id)));
}

/** A look makes a megabyte of short-lived numbers: swept seldom, hardly any of them lives to be looked at. */
const resourceLimits = { maxYoungGenerationSizeMb: 48 };
/** A thread of V8 and its share of the readings take some 60 MB. */
const mostThreads = 4;

/**
 * Tells the answers in the order of `tasks`, each as soon as it and those before it are there. `file` is the database of
 * `store`, which threads open for themselves.
 */
export async function replayNucs(
  { store, file }: { readonly store: Store; readonly file: string },
  tasks: readonly ReplayTask[],
  tell: (task: ReplayTask, answer: ReplayAnswer | undefined) => void,
  threads = Math.min(tasks.length, availableParallelism(), mostThreads),
): Promise<void> {
  if (threads < 2) {
    const shared = sharedOf(store);
    for (const task of tasks) tell(task, replayTask(store, task, shared));
    return;
  }
  const answers = new Map<number, ReplayAnswer | undefined>();
  let given = 0;
  let told = 0;
  function came({ index, answer }: ReplayDone): void {
    answers.set(index, answer);
    for (; answers.has(told); told += 1) {
      tell(tasks[told] as ReplayTask, answers.get(told));
      answers.delete(told);
    }
  }
  const crew = Array.from({ length: threads }, () =>
    threadBeside(import.meta.url, 'replay-thread', { workerData: file, resourceLimits }),
  );
  const workedOff = (thread: Worker): Promise<void> =>
    new Promise((resolve, reject) => {
      const give = (): void => {
        const task = tasks[given];
        if (!task) {
          resolve();
          return;
        }
        thread.postMessage({ index: given, task } satisfies ReplayGiven);
        given += 1;
      };
      thread.on('message', (done: ReplayDone) => {
        came(done);
        give();
      });
      thread.once('error', reject);
      thread.once('exit', (code) => {
        reject(new Error(`a thread of the replay ended with ${String(code)} before its work was done`));
      });
      give();
    });
  try {
    await Promise.all(crew.map(workedOff));
  } finally {
    await Promise.all(crew.map((thread) => thread.terminate()));
  }
}

export interface ReplayGiven {
  readonly index: number;
  readonly task: ReplayTask;
}

export interface ReplayDone {
  readonly index: number;
  readonly answer: ReplayAnswer | undefined;
}
