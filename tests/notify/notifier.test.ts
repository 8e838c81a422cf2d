/** The notifier with a real store: states of nucs on MQTT beside messages, and a trial message. */
import { join } from 'node:path';
import { expect, it, onTestFinished, vi } from 'vitest';
import type { Publication } from '../../server/notify/mqtt.ts';
import { createNotifier } from '../../server/service/notifier.ts';
import { openStore, StoreUnavailable } from '../../server/store/store.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { hookServer } from './loopback.ts';
import { effect, min, noon } from './made-up.ts';

async function farm() {
  const folder = newFolder();
  const store = openStore({ file: join(folder, 'welcomb.db') });
  const hook = await hookServer();
  // It takes what comes, and never answers.
  hook.status = 0;
  const put = (id: string, channel: object): void => {
    store.settings.put(`telling/${id}`, { id, name: id, ...channel }, { by: 'test', secret: true });
  };
  put('hook', { kind: 'webhook', address: hook.url });
  put('hub', { kind: 'mqtt' });
  const kept = new Map<string, string>();
  let now = noon;
  const notifier = createNotifier({
    store,
    clock: () => now,
    timeZone: () => 'UTC',
    publish: ({ topic, payload }: Publication) => {
      if (payload === '') kept.delete(topic);
      else kept.set(topic, payload);
      return Promise.resolve();
    },
    brokerSinceMs: () => 0,
    openPages: () => 0,
    nucs: () => [{ id: 'n1', name: 'Nuc 1', siteName: 'Hill', timeZone: 'UTC', stage: 'caged, day 8' }],
    complain: () => undefined,
    onError: () => undefined,
  });
  onTestFinished(async () => {
    await hook.close();
    store.close();
    dropFolder(folder);
  });
  return { store, notifier, hook, kept, put, later: (ms: number) => (now += ms) };
}

it('is not held up by a channel that does not answer', async () => {
  const { notifier, hook, kept, later } = await farm();
  notifier.onEffects([effect('raised')], noon);
  await notifier.pump();
  const minute = notifier.onMinute([], later(min));
  await vi.waitFor(() => {
    expect([...kept.keys()]).toContain('welcomb-status/nucs/n1');
  });
  await hook.close();
  await minute;
});

it('goes where its channel is switched off', async () => {
  const { notifier, kept, put, later } = await farm();
  await notifier.onMinute([], later(min));
  expect(kept.size).toBeGreaterThan(0);
  put('hub', { kind: 'mqtt', enabled: false });
  await notifier.onMinute([], later(min));
  expect(kept.size).toBe(0);
});

it('a trial message that was sent is told so also while nothing can be stored', async () => {
  const { notifier, store } = await farm();
  vi.spyOn(store.deliveries, 'save').mockImplementation(() => {
    throw new StoreUnavailable('disk-full', 'The disk is full.');
  });
  expect(await notifier.tryChannel('hub', noon)).toMatchObject({ ok: true });
});
