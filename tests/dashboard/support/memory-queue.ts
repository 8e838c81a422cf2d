/** The queue of unsent entries, in memory: in the place of the browser's own database. */
import type { Unsent } from '../../../dashboard/visit/unsent.ts';

export const queue = new Map<string, Unsent>();

export function putUnsent(all: readonly Unsent[]): Promise<void> {
  for (const one of all) queue.set(one.entry.id, one);
  return Promise.resolve();
}
export function dropUnsent(ids: readonly string[]): Promise<void> {
  for (const id of ids) queue.delete(id);
  return Promise.resolve();
}
export const allUnsent = (): Promise<readonly Unsent[]> =>
  Promise.resolve([...queue.values()].sort((a, b) => a.entry.writtenAtMs - b.entry.writtenAtMs));
