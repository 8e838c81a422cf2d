/** What is not sent any more: overtaken by news, seen or put off by somebody, or for a channel that was switched off. */
import { describe, expect, it } from 'vitest';
import type { Delivery, DeliveryStore } from '../../server/notify/delivery.ts';
import { createNotifications } from '../../server/notify/notifications.ts';
import { createOutbox } from '../../server/notify/outbox.ts';
import type { Recipient } from '../../server/notify/recipient.ts';
import type { Sent } from '../../server/notify/sender.ts';
import type { Effect } from '../../server/rules/engine/alert-state.ts';
import { effect, hour, min, noon, nuc, raisedAlert, recipient } from './made-up.ts';
import { memoryStore } from './memory-store.ts';

const quietHours = { from: '22:00', to: '06:30', timeZone: 'Europe/Berlin' };
/** 18:00, 23:00 and 01:00 in Berlin. */
const evening = Date.UTC(2026, 4, 6, 16);
const night = Date.UTC(2026, 4, 6, 21);
const small = Date.UTC(2026, 4, 6, 23);

function farm(over: Partial<Recipient> = {}) {
  const store = memoryStore();
  const state = { now: noon, over, sent: [] as Delivery[] };
  const recipients = () => [recipient(state.over)];
  const notifications = createNotifications({
    store,
    recipients,
    titleOf: (ruleId) => ruleId,
    timeZoneOf: () => 'UTC',
    digestDue: () => false,
  });
  const outbox = outboxOf(
    store,
    recipients,
    () => state.now,
    (delivery) => {
      state.sent.push(delivery);
      return Promise.resolve({ ok: true, detail: 'sent' });
    },
  );
  return {
    store,
    state,
    notifications,
    at: async (ms: number, ...effects: readonly Effect[]): Promise<void> => {
      state.now = ms;
      notifications.onEffects(effects, ms);
      await outbox.pump();
    },
    told: () => state.sent.map(({ kind, urgency, items }) => [kind, urgency, items.length]),
  };
}

function outboxOf(
  store: DeliveryStore,
  recipients: () => readonly Recipient[],
  clock: () => number,
  send: (delivery: Delivery, to: Recipient) => Promise<Sent>,
) {
  return createOutbox({
    store,
    senders: { mail: send, webhook: send, mqtt: send, browser: send, push: send },
    recipients,
    clock,
  });
}

describe('news about an alert', () => {
  it('takes the place of what was not sent yet', async () => {
    const { at, told, store } = farm();
    await at(
      noon,
      effect('raised', { urgency: 'today' }),
      effect('raised', { urgency: 'today', subject: nuc(2) }),
    );
    await at(noon + min, effect('worsened'));
    await at(noon + 2 * min);
    await at(noon + hour);
    expect(told()).toEqual([
      ['alert', 'now', 1],
      ['alert', 'today', 1],
    ]);
    expect(store.waiting()).toEqual([]);
  });

  it('is not followed by the end of an earlier one that waited for the morning', async () => {
    const { at, told } = farm({ quietHours });
    const first = effect('raised', { urgency: 'today' });
    await at(evening, first);
    await at(evening + hour);
    await at(night, { ...effect('cleared', { urgency: 'today' }) });
    const again = effect('raised');
    await at(small, { ...again, episode: { ...again.episode, id: `${again.key}/2` } });
    await at(small + min);
    await at(small + 12 * hour);
    expect(told()).toEqual([
      ['alert', 'today', 1],
      ['alert', 'now', 1],
    ]);
  });

  it('comes once also where a killed server decides on it again', async () => {
    const { at, told } = farm();
    const both = [effect('raised'), effect('raised', { subject: nuc(2) })];
    await at(noon, ...both);
    await at(noon, ...both);
    await at(noon + hour);
    expect(told()).toEqual([['alert', 'now', 2]]);
  });

  it('of a nuc leaves what waits for another as it is', async () => {
    const { at, told } = farm({ quietHours });
    await at(evening, effect('raised', { urgency: 'today' }));
    await at(evening + hour);
    await at(night, effect('cleared', { urgency: 'today' }));
    await at(small, effect('raised', { subject: nuc(2) }), effect('raised', { ruleId: 'box-gone' }));
    await at(small + min);
    await at(small + 12 * hour);
    expect(told().map(([kind]) => kind)).toEqual(['alert', 'alert', 'alert', 'all-clear']);
  });
});

describe('a reminder that waits for the morning', () => {
  it.each([
    ['seen', ['alert']],
    ['put-off', ['alert']],
    [undefined, ['alert', 'reminder']],
  ] as const)('where the alert was %s meanwhile', async (kind, expected) => {
    const { at, told, notifications, state } = farm({ quietHours });
    const raised = effect('raised', { urgency: 'today' });
    await at(evening, raised);
    await at(evening + min * 10);
    state.now = night;
    notifications.onMinute([raisedAlert(raised)], night);
    await at(night + min, ...(kind === undefined ? [] : [effect(kind, { urgency: 'today' })]));
    await at(small + 12 * hour);
    expect(told().map(([what]) => what)).toEqual(expected);
  });

  it('an alert that was put off before it was sent comes when that time is over', async () => {
    const { at, told } = farm({ quietHours });
    await at(night, effect('raised', { urgency: 'today' }));
    await at(night + min, effect('put-off', { urgency: 'today' }));
    await at(small + 12 * hour);
    expect(told()).toEqual([]);
    await at(small + 13 * hour, effect('put-off-over', { urgency: 'today' }));
    await at(small + 14 * hour);
    expect(told().map(([what]) => what)).toEqual(['alert']);
  });
});

describe('a channel that is switched off', () => {
  it('is sent nothing more: neither what waits nor the end of what it was sent', async () => {
    const { at, told, state, store } = farm();
    await at(noon, effect('raised'));
    await at(noon + min, effect('raised', { urgency: 'today', subject: nuc(2) }));
    state.over = { enabled: false };
    await at(noon + hour, effect('cleared'));
    await at(noon + 2 * hour);
    expect(told()).toEqual([['alert', 'now', 1]]);
    expect(store.waiting()).toEqual([]);
    expect(store.all().at(-1)?.reason).toBe('this notification channel is switched off');
  });

  it('also in the middle of what it is sent', async () => {
    const { store, notifications, state } = farm();
    const many = [1, 2, 3].map((n) => effect('raised', { subject: nuc(n, `site-${String(n)}`) }));
    notifications.onEffects(many, noon);
    const sent: string[] = [];
    const outbox = outboxOf(
      store,
      () => [recipient(state.over)],
      () => noon + min,
      ({ key }) => {
        sent.push(key);
        state.over = { enabled: false };
        return Promise.resolve({ ok: false, detail: 'gone', final: true });
      },
    );
    await outbox.pump();
    await outbox.pump();
    expect(sent).toHaveLength(1);
    expect(store.waiting()).toEqual([]);
  });
});

describe('a channel that is slow', () => {
  const fast = recipient({ id: 'fast' });
  const slow = recipient({ id: 'slow' });

  function both() {
    const store = memoryStore();
    const sent: string[] = [];
    let arrived = (): void => undefined;
    const notifications = createNotifications({
      store,
      recipients: () => [fast, slow],
      titleOf: (ruleId) => ruleId,
      timeZoneOf: () => 'UTC',
      digestDue: () => false,
    });
    notifications.onEffects([effect('raised')], noon);
    const send = (_: Delivery, { id }: Recipient): Promise<Sent> => {
      sent.push(id);
      const ok: Sent = { ok: true, detail: 'sent' };
      if (id === 'fast') return Promise.resolve(ok);
      return new Promise((resolve) => {
        arrived = () => {
          resolve(ok);
        };
      });
    };
    const outbox = (kept: DeliveryStore) =>
      outboxOf(
        kept,
        () => [fast, slow],
        () => noon + min,
        send,
      );
    return {
      store,
      sent,
      notifications,
      outbox,
      arrive: () => {
        arrived();
      },
    };
  }

  it('holds up no other', async () => {
    const { store, sent, notifications, outbox, arrive } = both();
    const one = outbox(store);
    const first = one.pump();
    await new Promise(setImmediate);
    notifications.onEffects([effect('raised', { subject: nuc(2, 'brook') })], noon);
    const second = one.pump();
    await new Promise(setImmediate);
    expect(sent).toEqual(['fast', 'slow', 'fast']);
    arrive();
    await new Promise(setImmediate);
    arrive();
    await Promise.all([first, second]);
  });

  it('is not sent the same twice where the outbox of another can’t be written', async () => {
    const { store, sent, outbox, arrive } = both();
    let broken = true;
    const one = outbox({
      ...store,
      save(delivery) {
        if (broken && delivery.recipientId === 'fast') throw new Error('disk I/O error');
        store.save(delivery);
      },
    });
    const first = one.pump();
    await expect(first).rejects.toThrow('disk I/O error');
    broken = false;
    const second = one.pump();
    await new Promise(setImmediate);
    expect(sent).toEqual(['slow', 'fast']);
    arrive();
    await second;
    expect(store.waiting()).toEqual([]);
  });
});
