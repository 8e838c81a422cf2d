/** Runs jobs when they are due: node-cron gives the minute, `due.ts` decides, the store remembers the last success. */
import cron from 'node-cron';
import { whenPutRight } from './put-right.ts';
import { isDue, type Rhythm } from './due.ts';

export interface Job {
  readonly name: string;
  /** Asked every minute: the first site, made after the start, brings the time zone of its nights. */
  readonly rhythm: () => Rhythm;
  /** Asked every minute: true where it can't wait for its rhythm. */
  readonly urgent?: () => boolean;
  /** Asked where it is due: true where it has to wait, without a word, until something else is put right. */
  readonly blocked?: () => boolean;
  /** True where it must not wait for a job that takes long. Such jobs wait for each other alone. */
  readonly isShort?: boolean;
  /** A run that throws is logged and tried again: a minute later, and where it goes on failing ever more rarely. */
  run(nowMs: number): void | Promise<void>;
}

export interface RunnerDeps {
  readonly clock: () => number;
  readonly lastSuccess: { get(name: string): number | null; set(name: string, atMs: number): void };
  readonly onError: (job: string, error: unknown) => void;
}

export interface JobRunner {
  /** Runs what is due now, one after the other; what is under way from an earlier call is not run again. */
  runDue(): Promise<void>;
  stop(): Promise<void>;
}

export function startJobs(jobs: readonly Job[], deps: RunnerDeps): JobRunner {
  const rows = [true, false].map(
    (isShort) =>
      new Row(
        jobs.filter((job) => (job.isShort ?? false) === isShort),
        deps,
      ),
  );
  const runDue = async (): Promise<void> => {
    await Promise.all(rows.map((row) => row.runDue()));
  };
  const task = cron.schedule('* * * * *', () => {
    void runDue();
  });
  // A busy machine can let a minute go by. It is made up at once, and is no news for the log.
  task.on('execution:missed', () => {
    void runDue();
  });
  // It waits for the minute that it expected: by a clock set back for hours, and set ahead it makes up for every minute.
  const unwatch = whenPutRight(deps.clock, async () => {
    await task.stop();
    await task.start();
    await runDue();
  });
  return {
    runDue,
    async stop() {
      unwatch();
      await task.destroy();
      await Promise.all(rows.map((row) => row.underWay));
    },
  };
}

/** Jobs that run one after the other. */
class Row {
  readonly #jobs: readonly Job[];
  readonly #deps: RunnerDeps;
  /** Of jobs that failed last: how often in a row, and in how many minutes they are tried again. */
  readonly #failing = new Map<string, { readonly times: number; readonly minutesLeft: number }>();
  #underWay: Promise<void> | null = null;

  constructor(jobs: readonly Job[], deps: RunnerDeps) {
    this.#jobs = jobs;
    this.#deps = deps;
  }

  get underWay(): Promise<void> | null {
    return this.#underWay;
  }

  runDue(): Promise<void> {
    this.#underWay ??= this.#runAll().finally(() => {
      this.#underWay = null;
    });
    return this.#underWay;
  }

  async #runAll(): Promise<void> {
    for (const job of this.#jobs) if (!this.#isPaused(job)) await this.#runIfDue(job);
  }

  async #runIfDue(job: Job): Promise<void> {
    const { clock, lastSuccess, onError } = this.#deps;
    const nowMs = clock();
    let rhythm: Rhythm | undefined;
    try {
      rhythm = job.rhythm();
      const due = isDue(rhythm, lastSuccess.get(job.name), nowMs);
      if (!due && job.urgent?.() !== true) return;
      if (job.blocked?.() === true) return;
      await job.run(nowMs);
      lastSuccess.set(job.name, nowMs);
      this.#failing.delete(job.name);
    } catch (error) {
      const times = (this.#failing.get(job.name)?.times ?? 0) + 1;
      this.#failing.set(job.name, { times, minutesLeft: retryAfterMinutes(times, rhythm) });
      onError(job.name, error);
    }
  }

  /** Counts the minutes of a job that failed; by the clock, one that was set back would stop it. */
  #isPaused({ name }: Job): boolean {
    const failing = this.#failing.get(name);
    if (failing === undefined) return false;
    const minutesLeft = failing.minutesLeft - 1;
    this.#failing.set(name, { ...failing, minutesLeft });
    return minutesLeft > 0;
  }
}

/** Doubles with each failure in a row; no longer than the job's own rhythm, or an hour. */
function retryAfterMinutes(times: number, rhythm: Rhythm | undefined): number {
  return Math.min(2 ** (times - 1), rhythm?.kind === 'every' ? rhythm.minutes : 60);
}
