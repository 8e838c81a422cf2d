/** Threads that replay many nucs, shared out among them: one nuc tells nothing of another. */
import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import { threadBeside } from '../store/own-thread.ts';
import type { ReplayAnswer, ReplayTask } from './replay-task.ts';

/** A look makes a megabyte of short-lived numbers: swept seldom, hardly any of them lives to be looked at. */
const resourceLimits = { maxYoungGenerationSizeMb: 48 };
/** A thread of V8 and its share of the readings take some 60 MB. */
const mostThreads = 4;

export class ReplayCrew {
  readonly #threads: readonly Worker[];

  constructor(threads = Math.min(availableParallelism(), mostThreads)) {
    this.#threads = Array.from({ length: threads }, () =>
      threadBeside(import.meta.url, 'replay-thread', { resourceLimits }),
    );
  }

  /**
   * Tells the answers in the order of `tasks`, each as soon as it and those before it are there. `file` is the database, which
   * each thread opens for itself.
   */
  async work(
    file: string,
    tasks: readonly ReplayTask[],
    tell: (task: ReplayTask, answer: ReplayAnswer | undefined) => void,
  ): Promise<void> {
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
    const workedOff = (thread: Worker): Promise<void> =>
      new Promise((resolve, reject) => {
        const give = (): void => {
          const task = tasks[given];
          if (!task) {
            resolve();
            return;
          }
          thread.postMessage({ file, index: given, task } satisfies ReplayGiven);
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
    await Promise.all(this.#threads.map(workedOff));
  }

  async end(): Promise<void> {
    await Promise.all(this.#threads.map((thread) => thread.terminate()));
  }
}

export interface ReplayGiven {
  readonly file: string;
  readonly index: number;
  readonly task: ReplayTask;
}

export interface ReplayDone {
  readonly index: number;
  readonly answer: ReplayAnswer | undefined;
}
