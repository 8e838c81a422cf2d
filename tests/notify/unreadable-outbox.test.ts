/** An outbox that can't be read for a moment: the error is passed on, and nothing is left unhandled, which would end the server. */
import { join } from 'node:path';
import { expect, it, onTestFinished, vi } from 'vitest';
import { createNotifier } from '../../server/service/notifier.ts';
import { openStore } from '../../server/store/store.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

it('passes on what the disk says, and sends the next time', async () => {
  const folder = newFolder();
  const store = openStore({ file: join(folder, 'welcomb.db') });
  onTestFinished(() => {
    store.close();
    dropFolder(folder);
  });
  const errors: unknown[] = [];
  const notifier = createNotifier({
    store,
    clock: () => 0,
    timeZone: () => 'UTC',
    publish: () => Promise.resolve(),
    brokerSinceMs: () => 0,
    openPages: () => 0,
    nucs: () => [],
    complain: () => undefined,
    onError: (error) => errors.push(error),
  });
  const fault = new Error('disk I/O error');
  vi.spyOn(store.deliveries, 'waiting').mockImplementationOnce(() => {
    throw fault;
  });
  notifier.onEffects([], 0);
  await vi.waitFor(() => {
    expect(errors).toEqual([fault]);
  });
  await expect(notifier.pump()).resolves.toBeUndefined();
});
