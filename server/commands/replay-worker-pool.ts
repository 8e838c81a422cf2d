/** Threads that replay many nucs, shared out among them: nucs are replayed independently. */
import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import { threadBeside } from '../store/own-thread.ts';
import type { ReplayAnswer, ReplayTask } from './replay-task.ts';

/** An evaluation makes a megabyte of short-lived numbers: with a large young generation hardly any is copied. */
const resourceLimits = { maxYoungGenerationSizeMb: 48 };
/** A thread of V8 and its share of the readings take some 60 MB. */
const mostThreads = 4;

export class ReplayWorkerPool {
  readonly #threads: readonly Worker[];

  constructor(threads = Math.min(availableParallelism(), mostThreads)) {
    this.#threads = Array.from({ length: threads }, () =>
      threadBeside(import.meta.url, 'replay-thread', { resourceLimits }),
    );
  }

  /**
   * Gives the answers in the order of `tasks`, each as soon as it and those before it are there. `file` is the database, which
   * each thread opens for itself.
   */
  async work(
    file: string,
    tasks: readonly ReplayTask[],
    onAnswer: (task: ReplayTask, answer: ReplayAnswer | undefined) => void,
  ): Promise<void> {
    const answers = new Map<number, ReplayAnswer | undefined>();
    let given = 0;
    let delivered = 0;
    function came({ index, answer }: ReplayDone): void {
      answers.set(index, answer);
      for (; answers.has(delivered); delivered += 1) {
        onAnswer(tasks[delivered] as ReplayTask, answers.get(delivered));
        answers.delete(delivered);
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
