/** What a home hub is told over time: after a new connection all of it again, and nothing of a nuc that was taken down. */
import { expect, it } from 'vitest';
import { HubStates } from '../../server/service/hub-states.ts';
import type { Publication } from '../../server/notify/mqtt.ts';
import { temporaryStore } from '../store/support/temporary-store.ts';
import { recipient } from './made-up.ts';

const { display } = recipient();
const [one, other] = ['n1', 'n2'].map((id) => ({
  id,
  name: `Nuc ${id}`,
  siteName: 'Hill',
  timeZone: 'Europe/Berlin',
  stage: 'caged, day 8',
})) as [Parameters<HubStates['update']>[1][number], Parameters<HubStates['update']>[1][number]];

/** The messages that a broker keeps, by topic; it takes none of them while it is away. */
function hub() {
  const kept = new Map<string, string>();
  const store = temporaryStore();
  let sinceMs = 0;
  let away = false;
  const start = () =>
    new HubStates({
      store,
      publish: ({ topic, payload }: Publication) => {
        if (away) return Promise.reject(new Error('away'));
        if (payload === '') kept.delete(topic);
        else kept.set(topic, payload);
        return Promise.resolve();
      },
      brokerSinceMs: () => sinceMs,
    });
  let states = start();
  return {
    kept,
    update: (...nucs: readonly (typeof one)[]) => states.update('w', nucs, [], display),
    updateBelow: (base: string, ...nucs: readonly (typeof one)[]) => states.update(base, nucs, [], display),
    withdraw: () => states.withdraw(),
    /** The server starts again; what was retained stays with the broker. */
    restart: () => {
      states = start();
    },
    goAway: () => {
      away = true;
      sinceMs += 1;
    },
    comeBack: () => {
      away = false;
      sinceMs += 1;
    },
  };
}

it('tells all again to a broker that came back and has forgotten it', async () => {
  const { kept, update, goAway, comeBack } = hub();
  await update(one, other);
  const before = new Map(kept);
  expect(before.size).toBe(7);
  goAway();
  await expect(update(one, other)).rejects.toThrow('away');
  kept.clear();
  comeBack();
  await update(one, other);
  expect(kept).toEqual(before);
});

it('takes a nuc that was taken down away, also where the broker was away at that moment', async () => {
  const { kept, update, goAway, comeBack } = hub();
  await update(one, other);
  goAway();
  await expect(update(one)).rejects.toThrow('away');
  comeBack();
  await update(one);
  expect([...kept.keys()].filter((topic) => topic.includes('n2'))).toEqual([]);
  expect(kept.size).toBe(4);
});

it('shows a nuc again that is put up again', async () => {
  const { kept, update } = hub();
  await update(one, other);
  await update(one);
  await update(one, other);
  expect(kept.size).toBe(7);
});

it('leaves nothing behind where it publishes elsewhere, or no more', async () => {
  const { kept, update, updateBelow, withdraw, goAway, comeBack } = hub();
  await update(one, other);
  await updateBelow('v', one);
  expect([...kept.keys()].filter((topic) => topic.startsWith('w/') || topic.includes('n2'))).toEqual([]);
  expect(kept.size).toBe(4);
  goAway();
  await expect(withdraw()).rejects.toThrow('away');
  comeBack();
  await withdraw();
  await withdraw();
  expect(kept.size).toBe(0);
  await update(one, other);
  expect(kept.size).toBe(7);
});

it('takes away what was shown before the server was started again', async () => {
  const { kept, update, updateBelow, withdraw, restart, goAway } = hub();
  await update(one, other);
  restart();
  await update(one);
  expect([...kept.keys()].filter((topic) => topic.includes('n2'))).toEqual([]);
  restart();
  await updateBelow('v', one);
  expect([...kept.keys()].filter((topic) => topic.startsWith('w/'))).toEqual([]);
  goAway();
  await expect(withdraw()).rejects.toThrow('away');
});

it('takes away, after a start, what it could not before, also where no channel is left', async () => {
  const { kept, update, withdraw, restart, goAway, comeBack } = hub();
  await update(one, other);
  goAway();
  await expect(update(one)).rejects.toThrow('away');
  restart();
  comeBack();
  await update(one);
  expect([...kept.keys()].filter((topic) => topic.includes('n2'))).toEqual([]);
  restart();
  await withdraw();
  expect(kept.size).toBe(0);
});
