/** The check of a database in a thread of its own: of a large one it takes seconds, and readings come in meanwhile. */
import { StoreRefused } from './errors.ts';
import { threadBeside } from './own-thread.ts';

/** Rejects with `StoreRefused` and what is wrong, as `check` does. */
export async function checkAside(file: string): Promise<void> {
  const refusal = await new Promise<string | null>((resolve, reject) => {
    const worker = threadBeside(import.meta.url, 'check-thread', { workerData: file });
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.once('exit', (code) => {
      reject(new Error(`the check of ${file} ended with ${String(code)} before it had a result`));
    });
  });
  if (refusal !== null) throw new StoreRefused(refusal);
}
