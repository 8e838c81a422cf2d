/** What the simulator's commands share. */
import { realpathSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

/** Whether a module is the program that was started, and not one that was imported. */
export function isEntry(moduleUrl: string): boolean {
  const started = process.argv[1];
  return started !== undefined && moduleUrl === pathToFileURL(realpathSync(started)).href;
}

/** Aborts at the first interrupt, so that what is in flight is still acknowledged. */
export function stopOnSignal(): AbortSignal {
  const controller = new AbortController();
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => controller.abort());
  return controller.signal;
}
