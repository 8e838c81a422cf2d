/** The check of a database in a thread of its own: of a large one it takes seconds, and readings come in meanwhile. */
import type { Verified } from './check-database.ts';
import { StoreRefused } from '../errors.ts';
import { threadBeside } from '../own-thread.ts';

export interface CheckTask {
  readonly file: string;
  /** A backup that was just copied gets its digest first. */
  readonly addDigest: boolean;
}

export type CheckOutcome = { readonly verified: Verified } | { readonly refusal: string };

/** Rejects with `StoreRefused` and what is wrong, as `check` does. */
export const checkAside = (file: string): Promise<Verified> => inThread({ file, addDigest: false });

/** Gives a copy its digest, then checks it. */
export const finishAside = (file: string): Promise<Verified> => inThread({ file, addDigest: true });

async function inThread(task: CheckTask): Promise<Verified> {
  const outcome = await new Promise<CheckOutcome>((resolve, reject) => {
    const worker = threadBeside(import.meta.url, 'check-thread', { workerData: task });
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.once('exit', (code) => {
      reject(new Error(`the check of ${task.file} ended with ${String(code)} before it had a result`));
    });
  });
  if ('refusal' in outcome) throw new StoreRefused(outcome.refusal);
  return outcome.verified;
}
