/** A server whose clock was a year ahead, and was put right: nothing waits for that year, and nothing comes every minute. */
import { describe, expect, it } from 'vitest';
import { isDue } from '../../server/jobs/due.ts';
import type { Delivery } from '../../server/notify/delivery.ts';
import { createNotifications } from '../../server/notify/notifications.ts';
import { createOutbox } from '../../server/notify/outbox.ts';
import type { Sent } from '../../server/notify/sender.ts';
import { temporaryStore } from '../store/support/temporary-store.ts';
import { effect, hour, min, noon, nuc, raisedAlert, recipient } from './made-up.ts';

const year = 365 * 24 * hour;
const well: Sent = { ok: true, detail: 'sent' };
const busy: Sent = { ok: false, detail: 'busy', final: false };

function farm(over: Parameters<typeof recipient>[0] = {}) {
  const store = temporaryStore().deliveries;
  const state = { now: noon, answer: well as Sent, sent: [] as Delivery[], tries: 0 };
  const send = (delivery: Delivery): Promise<Sent> => {
    state.tries += 1;
    if (state.answer.ok) state.sent.push(delivery);
    return Promise.resolve(state.answer);
  };
  const recipients = () => [recipient(over)];
  const notifications = createNotifications({
    store,
    recipients,
    titleOf: (ruleId) => ruleId,
    timeZoneOf: () => 'UTC',
    digestDue: isDue,
  });
  const outbox = createOutbox({
    store,
    senders: { mail: send, webhook: send, mqtt: send, browser: send, push: send },
    recipients,
    clock: () => state.now,
  });
  const later = async (ms: number): Promise<void> => {
    state.now += ms;
    await outbox.pump();
  };
  return { store, notifications, later, state };
}
const kinds = (sent: readonly Delivery[]): string[] => sent.map(({ kind }) => kind);

describe('after the clock was set back', () => {
  it('the digest comes once a morning', async () => {
    const { notifications, later, state } = farm({ digestAt: '07:00' });
    const open = [raisedAlert(effect('raised', { urgency: 'next-visit' }))];
    state.now += year;
    notifications.onMinute(open, state.now);
    state.now -= year;
    for (let i = 0; i < 30; i += 1) {
      notifications.onMinute(open, state.now);
      await later(min);
    }
    expect(kinds(state.sent)).toEqual(['digest']);
  });

  it.each([year, 3 * hour])(
    'by %d ms, what waits goes out, and what fails is tried at its pace',
    async (by) => {
      const { notifications, later, state } = farm();
      state.now += by;
      notifications.onEffects([effect('raised')], state.now);
      state.answer = busy;
      await later(min);
      state.now -= by;
      state.tries = 0;
      notifications.onEffects([effect('raised', { subject: nuc(2, 'brook') })], state.now);
      for (let i = 0; i < 60; i += 1) await later(min);
      expect(state.tries).toBeGreaterThan(2);
      expect(state.tries).toBeLessThan(12);
      state.answer = well;
      await later(hour);
      expect(state.sent.map(({ items }) => items[0]?.subject.id)).toEqual(['n1', 'n2']);
    },
  );

  it('a message that failed while the clock was ahead does not block its channel', async () => {
    const { notifications, later, state } = farm();
    notifications.onEffects([effect('raised')], state.now);
    state.now += year;
    state.answer = busy;
    await later(min);
    state.now -= year;
    state.answer = well;
    await later(min);
    expect(kinds(state.sent)).toEqual(['alert']);
  });

  it('reminders come as ever', async () => {
    const { notifications, later, state } = farm();
    const raised = effect('raised');
    state.now += year;
    notifications.onEffects([raised], state.now);
    await later(min);
    state.now -= year;
    for (let i = 0; i < 40; i += 1) {
      notifications.onMinute([raisedAlert(raised)], state.now);
      await later(min);
    }
    expect(kinds(state.sent)).toEqual(['alert', 'reminder', 'reminder']);
  });
});

it('a service that asks to be left alone for weeks is tried again after a day', async () => {
  const { notifications, later, state } = farm();
  notifications.onEffects([effect('raised')], state.now);
  state.answer = { ...busy, retryAfterMs: 11 * 24 * hour };
  await later(min);
  state.answer = well;
  await later(23 * hour);
  expect(state.sent).toEqual([]);
  await later(2 * hour);
  expect(kinds(state.sent)).toEqual(['alert']);
});
