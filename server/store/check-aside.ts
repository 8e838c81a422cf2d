/** The check of a database in a thread of its own: of a large one it takes seconds, and readings come in meanwhile. */
import { Worker } from 'node:worker_threads';
import { StoreRefused } from './errors.ts';

const built = new URL('./check-thread.js', import.meta.url);
/** Node 20 reads no TypeScript by itself; only a developer's checkout runs from it. */
const throughLoader = `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(
  new URL('./check-thread.ts', import.meta.url).href,
)}); });`;

const startThread = (file: string): Worker =>
  import.meta.url.endsWith('.ts')
    ? new Worker(throughLoader, { eval: true, workerData: file })
    : new Worker(built, { workerData: file });

/** Rejects with `StoreRefused` and what is wrong, as `check` does. */
export async function checkAside(file: string): Promise<void> {
  const refusal = await new Promise<string | null>((resolve, reject) => {
    const worker = startThread(file);
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.once('exit', (code) => {
      reject(new Error(`the check of ${file} ended with ${String(code)} before it had a result`));
    });
  });
  if (refusal !== null) throw new StoreRefused(refusal);
}
