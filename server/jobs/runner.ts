/** Runs jobs when they are due: node-cron gives the minute, `due.ts` decides, the store remembers the last success. */
import cron from 'node-cron';
import { isDue, type Rhythm } from './due.ts';

export interface Job {
  readonly name: string;
  /** Asked every minute: the first site, made after the start, brings the time zone of its nights. */
  readonly rhythm: () => Rhythm;
  /** Asked every minute: true where it can't wait for its rhythm. */
  readonly urgent?: () => boolean;
  /** Asked where it is due: true where it has to wait, without a word, until something else is put right. */
  readonly blocked?: () => boolean;
  /** A run that throws is logged and tried again a minute later. */
  run(nowMs: number): void | Promise<void>;
}

export interface RunnerDeps {
  readonly clock: () => number;
  readonly lastSuccess: { get(name: string): number | null; set(name: string, atMs: number): void };
  readonly onError: (job: string, error: unknown) => void;
}

export interface JobRunner {
  /** Runs what is due now, one after the other; a call while one is under way does nothing. */
  runDue(): Promise<void>;
  stop(): Promise<void>;
}

export function startJobs(jobs: readonly Job[], deps: RunnerDeps): JobRunner {
  let underWay: Promise<void> | null = null;

  async function runAll(): Promise<void> {
    for (const job of jobs) {
      const nowMs = deps.clock();
      try {
        const due = isDue(job.rhythm(), deps.lastSuccess.get(job.name), nowMs);
        if (!due && job.urgent?.() !== true) continue;
        if (job.blocked?.() === true) continue;
        await job.run(nowMs);
        deps.lastSuccess.set(job.name, nowMs);
      } catch (error) {
        deps.onError(job.name, error);
      }
    }
  }

  function runDue(): Promise<void> {
    underWay ??= runAll().finally(() => {
      underWay = null;
    });
    return underWay;
  }

  const task = cron.schedule('* * * * *', () => {
    void runDue();
  });
  // A busy machine can let a minute go by. It is made up at once, and is no news for the log.
  task.on('execution:missed', () => {
    void runDue();
  });
  return {
    runDue,
    async stop() {
      await task.destroy();
      await underWay;
    },
  };
}
