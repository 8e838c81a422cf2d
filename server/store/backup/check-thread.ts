/** The thread of `check-aside.ts`: one file in, the sentence of its refusal or how it was verified out. */
import '../../process/young-part.ts';
import { parentPort, workerData } from 'node:worker_threads';
import type { CheckOutcome, CheckTask } from './check-aside.ts';
import { check } from './check-database.ts';
import { connection } from '../file/connection.ts';
import { addDigest } from '../file/content-digest.ts';
import { StoreRefused } from '../errors.ts';

function outcomeOf(task: CheckTask): CheckOutcome {
  try {
    if (task.addDigest) sign(task.file);
    return { verified: check(task.file) };
  } catch (error) {
    if (error instanceof StoreRefused) return { refusal: error.message };
    throw error;
  }
}

function sign(file: string): void {
  const db = connection(file);
  try {
    addDigest(db);
  } finally {
    db.close();
  }
}

parentPort?.postMessage(outcomeOf(workerData as CheckTask));
