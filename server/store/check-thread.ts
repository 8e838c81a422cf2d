/** The thread of `check-aside.ts`: one file in, the sentence of its refusal (or null) out. */
import { parentPort, workerData } from 'node:worker_threads';
import { check } from './check-database.ts';
import { StoreRefused } from './errors.ts';

function refusalOf(file: string): string | null {
  try {
    check(file);
    return null;
  } catch (error) {
    if (error instanceof StoreRefused) return error.message;
    throw error;
  }
}

parentPort?.postMessage(refusalOf(String(workerData)));
