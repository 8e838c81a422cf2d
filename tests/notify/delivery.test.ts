/** From an effect to a message that arrived: a real SMTP server and a real HTTP server, failing and recovering. */
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { isDue } from '../../server/jobs/due.ts';
import { browserSender } from '../../server/notify/browser.ts';
import { mailSender } from '../../server/notify/mail.ts';
import { mqttSender, type Publication } from '../../server/notify/mqtt.ts';
import { createOutbox } from '../../server/notify/outbox.ts';
import { readRecipient, type Recipient } from '../../server/notify/recipient.ts';
import type { Senders } from '../../server/notify/sender.ts';
import { createNotifications } from '../../server/notify/notifications.ts';
import { sendTest } from '../../server/notify/test-message.ts';
import { webhookSender } from '../../server/notify/webhook.ts';
import { beat } from '../../server/notify/heartbeat.ts';
import { Secret } from '../../server/settings-schema.ts';
import { hookServer, mailServer, type Hook, type MailBox } from './loopback.ts';
import { effect, hour, min, noon, nuc, raisedAlert, recipient } from './made-up.ts';
import { memoryStore } from './memory-store.ts';

const password = 'correct horse';
let mail: MailBox;
let hook: Hook;
let now = noon;
let published: Publication[] = [];
/** As long as a busy machine may take; only what stalls is waited for shortly. */
const patient = { timeoutMs: 20_000 };
const impatient = { timeoutMs: 250 };
const senders: Senders = {
  mail: mailSender(patient),
  webhook: webhookSender(patient),
  mqtt: mqttSender((publication) => Promise.resolve(void published.push(publication))),
  browser: browserSender(() => 1),
  push: () => Promise.reject(new Error('no phone here')),
};
const impatientSenders: Senders = {
  ...senders,
  mail: mailSender(impatient),
  webhook: webhookSender(impatient),
};

beforeAll(async () => {
  mail = await mailServer(password);
  hook = await hookServer();
});
afterAll(async () => {
  await Promise.all([mail.close(), hook.close()]);
});
beforeEach(() => {
  mail.received.length = 0;
  mail.mood = 'well';
  hook.received.length = 0;
  Object.assign(hook, { status: 204, retryAfter: null });
  now = noon;
  published = [];
});

const read = (kind: 'mail' | 'webhook' | 'mqtt', address: string, secret: string | null): Recipient => {
  const settings = {
    id: kind,
    name: kind,
    kind,
    enabled: true,
    urgencies: ['now' as const, 'today' as const],
    address,
  };
  const made = readRecipient(settings, secret === null ? null : new Secret(secret), recipient().display);
  if (!made.ok) throw new Error(made.problem);
  return made.recipient;
};
const mailTo = (secret = password): Recipient =>
  read(
    'mail',
    `smtp://keeper@127.0.0.1:${String(mail.port)}/ann@farm.example?from=hives@farm.example`,
    secret,
  );
const hookTo = (): Recipient => read('webhook', hook.url, 'token-1');

function farm(recipients: Recipient[], store = memoryStore()) {
  const outboxWith = (chosen: Senders) =>
    createOutbox({ store, senders: chosen, recipients: () => recipients, clock: () => now });
  const telling = createNotifications({
    store,
    recipients: () => recipients,
    titleOf: (ruleId) => (ruleId === 'brood-chilling' ? 'Brood is chilling' : ruleId),
    timeZoneOf: () => 'Europe/Berlin',
    digestDue: isDue,
  });
  return { store, telling, outbox: outboxWith(senders), impatientOutbox: outboxWith(impatientSenders) };
}
const later = async (outbox: { pump(): Promise<void> }, ms: number): Promise<void> => {
  now += ms;
  await outbox.pump();
};
const subjects = (): string[] =>
  mail.received.map((message) => /^Subject: (.*)$/m.exec(message)?.[1]?.trim() ?? '');
const kinds = (): unknown[] => hook.received.map(({ body }) => body['kind']);

describe('mail', () => {
  it('arrives once, with what to do first', async () => {
    const { telling, outbox, store } = farm([mailTo()]);
    telling.onEffects([effect('raised')], now);
    await outbox.pump();
    expect(mail.received).toHaveLength(0);
    await later(outbox, min);
    await later(outbox, min);
    expect(subjects()).toEqual(['Now: Brood is chilling, Nuc 1']);
    // Quoted-printable (RFC 2045 §6.7) breaks long lines with a trailing "=".
    expect(mail.received[0]?.replaceAll('=\r\n', '')).toMatch(
      /What to do: Warm it now\. By Wed 6 May 13:00\.[\s\S]*Seen:[\s\S]*How sure:/,
    );
    expect(store.all()[0]).toMatchObject({ state: 'sent', attempts: 1, reason: 'raised' });
  });

  it('is tried again while the server is busy, and the all-clear does not overtake it', async () => {
    const { telling, outbox, store } = farm([mailTo()]);
    mail.mood = 'busy';
    telling.onEffects([effect('raised')], now);
    await later(outbox, min);
    telling.onEffects([effect('cleared', { atMs: now })], now);
    await later(outbox, 25_000);
    expect(store.all().map(({ state, attempts }) => [state, attempts])).toEqual([
      ['waiting', 1],
      ['waiting', 0],
    ]);
    expect(store.all()[0]?.lastError).toContain('try again later');
    mail.mood = 'well';
    await later(outbox, 10_000);
    expect(subjects()).toEqual(['Now: Brood is chilling, Nuc 1', 'Over: Brood is chilling, Nuc 1']);
  });

  it('is given up when refused for good, and what comes after it goes on', async () => {
    const { telling, outbox, store } = farm([mailTo()]);
    mail.mood = 'refusing';
    telling.onEffects([effect('raised')], now);
    await later(outbox, min);
    expect(store.all()[0]).toMatchObject({ state: 'given-up' });
    expect(store.all()[0]?.lastError).toContain('no such mailbox');
    mail.mood = 'well';
    telling.onEffects([effect('raised', { subject: nuc(2) })], now);
    await later(outbox, min);
    expect(subjects()).toEqual(['Now: Brood is chilling, Nuc 2']);
  });

  it('survives a server that stalls', async () => {
    const { telling, outbox, impatientOutbox } = farm([mailTo()]);
    mail.mood = 'stalling';
    telling.onEffects([effect('raised')], now);
    await later(impatientOutbox, min);
    mail.mood = 'well';
    await later(outbox, min);
    expect(subjects()).toEqual(['Now: Brood is chilling, Nuc 1']);
  });

  it('says that the password is wrong without saying the password', async () => {
    const wrong = mailTo('battery staple');
    const store = memoryStore();
    const sent = await sendTest(wrong, senders, store, now);
    expect(sent).toMatchObject({ ok: false });
    expect(sent.detail).toContain('wrong user or password');
    expect(JSON.stringify([sent, store.all(), wrong])).not.toContain('battery');
    expect(await sendTest(mailTo(), senders, store, now)).toMatchObject({ ok: true });
    expect(store.recent(1)[0]).toMatchObject({ kind: 'test', state: 'sent' });
  });
});

it('a trial mail that one of two recipients does not get says so', async () => {
  const address = `smtp://127.0.0.1:${String(mail.port)}/ann@farm.example,nobody@farm.example`;
  expect(await sendTest(read('mail', address, null), senders, memoryStore(), now)).toEqual({
    ok: true,
    detail: 'mailed to ann@farm.example, but refused for nobody@farm.example',
    partly: true,
  });
  expect(mail.received).toHaveLength(1);
});

it('a mail that one of two recipients does not get is sent once, and keeps whom it did not reach', async () => {
  const address = `smtp://127.0.0.1:${String(mail.port)}/ann@farm.example,nobody@farm.example`;
  const { telling, outbox, store } = farm([read('mail', address, null)]);
  telling.onEffects([effect('raised')], now);
  await later(outbox, min);
  await later(outbox, min);
  expect(mail.received).toHaveLength(1);
  expect(store.all()[0]).toMatchObject({
    state: 'sent',
    lastError: 'mailed to ann@farm.example, but refused for nobody@farm.example',
  });
});

describe('a webhook', () => {
  it('repeats its key through failures, and is told once and in order', async () => {
    const { telling, outbox, impatientOutbox, store } = farm([hookTo()]);
    hook.status = 503;
    telling.onEffects([effect('raised'), effect('raised', { subject: nuc(2, 'brook') })], now);
    await later(outbox, min);
    hook.status = 0;
    await later(impatientOutbox, hour);
    hook.status = 204;
    await later(outbox, hour);
    telling.onEffects([effect('cleared', { atMs: now })], now);
    await later(outbox, min);
    expect(kinds()).toEqual(['alert', 'alert', 'all-clear']);
    expect(hook.received.map(({ key }) => key)).toEqual(store.all().map(({ key }) => key));
    expect(hook.received[0]?.authorization).toBe('Bearer token-1');
    expect(store.all()[0]).toMatchObject({ state: 'sent', attempts: 3 });
  });

  it('waits as long as it is asked to', async () => {
    const { telling, outbox, store } = farm([hookTo()]);
    Object.assign(hook, { status: 429, retryAfter: '7200' });
    telling.onEffects([effect('raised')], now);
    await later(outbox, min);
    expect(store.all()[0]?.notBeforeMs).toBe(now + 2 * hour);
  });

  it('is given up on a refusal, or after three days', async () => {
    const { telling, outbox, store } = farm([hookTo()]);
    hook.status = 404;
    telling.onEffects([effect('raised')], now);
    await later(outbox, min);
    hook.status = 500;
    telling.onEffects([effect('raised', { subject: nuc(2) })], now);
    await later(outbox, min);
    await later(outbox, 73 * hour);
    expect(store.all().map(({ state }) => state)).toEqual(['given-up', 'given-up']);
    expect(store.all()[0]?.lastError).toMatch(/^127\.0\.0\.1:\d+ answered 404 Not Found$/);
  });

  it('never names the path of its address, which may be secret', async () => {
    const gone = await hookServer();
    await gone.close();
    const sent = await sendTest(read('webhook', gone.url, null), senders, memoryStore(), now);
    expect(sent.detail).toBe(`${new URL(gone.url).host} could not be reached: ECONNREFUSED`);
    const odd = await sendTest(read('webhook', 'http://127.0.0.1:1/x', null), senders, memoryStore(), now);
    expect(odd.detail).toBe('127.0.0.1:1 could not be reached: bad port');
  });
});

describe('what comes together', () => {
  it('at one site is one message, and each nuc is in it', async () => {
    const { telling, outbox } = farm([hookTo()]);
    const many = [1, 2, 3].map((n) => effect('raised', { subject: nuc(n) }));
    telling.onEffects([...many, effect('raised', { subject: nuc(4, 'brook') })], now);
    await later(outbox, min);
    expect(hook.received.map(({ body }) => body['heading'])).toEqual([
      'Now: Brood is chilling, 3 at Hill',
      'Now: Brood is chilling, Nuc 4',
    ]);
  });

  it('loses a nuc that was over before it was sent', async () => {
    const { telling, outbox, store } = farm([hookTo()]);
    const many = [1, 2].map((n) => effect('raised', { subject: nuc(n), urgency: 'today' }));
    telling.onEffects(many, now);
    telling.onEffects([effect('cleared', { subject: nuc(1), urgency: 'today', atMs: now })], now);
    await later(outbox, 10 * min);
    expect(hook.received.map(({ body }) => body['heading'])).toEqual(['Today: Brood is chilling, Nuc 2']);
    telling.onEffects([effect('raised', { subject: nuc(3), urgency: 'today' })], now);
    telling.onEffects([effect('cleared', { subject: nuc(3), urgency: 'today', atMs: now })], now);
    await later(outbox, 10 * min);
    expect(hook.received).toHaveLength(1);
    expect(store.waiting()).toEqual([]);
  });
});

describe('a restart', () => {
  it('neither forgets nor repeats', async () => {
    const store = memoryStore();
    const before = farm([hookTo()], store);
    before.telling.onEffects([effect('raised')], now);
    // Killed before the alert's state was stored: the same effect comes again.
    const after = farm([hookTo()], store);
    after.telling.onEffects([effect('raised')], now);
    await later(after.outbox, min);
    await later(farm([hookTo()], store).outbox, min);
    expect(kinds()).toEqual(['alert']);
  });

  it('with a channel removed leaves nothing waiting', async () => {
    const store = memoryStore();
    farm([hookTo()], store).telling.onEffects([effect('raised')], now);
    await later(farm([], store).outbox, min);
    expect(store.all()[0]).toMatchObject({
      state: 'not-told',
      lastError: 'this notification channel was removed',
    });
  });
});

describe('every minute', () => {
  it('reminds until it is seen, up to the limit, and tells the end', async () => {
    const { telling, outbox } = farm([hookTo()]);
    const raised = effect('raised');
    telling.onEffects([raised], now);
    for (let i = 0; i < 300; i += 1) {
      telling.onMinute([raisedAlert(raised)], now);
      await later(outbox, min);
    }
    expect(kinds()).toEqual(['alert', 'reminder', 'reminder', 'reminder']);
  });

  it('reads what was sent about an alert once, however many are told', () => {
    const store = memoryStore();
    const { telling } = farm(
      ['a', 'b', 'c'].map((id) => ({ ...hookTo(), id })),
      store,
    );
    const raised = effect('raised');
    telling.onEffects([raised], now);
    const ofEpisode = vi.spyOn(store, 'ofEpisode');
    telling.onMinute([raisedAlert(raised)], now);
    expect(ofEpisode).toHaveBeenCalledTimes(1);
  });

  it('makes the digest of the morning, once, and says in the next what is over', async () => {
    const { telling, outbox, store } = farm([{ ...hookTo(), digestAt: '07:00' }]);
    const open = [effect('raised', { urgency: 'next-visit' }), effect('raised', { subject: nuc(2) })].map(
      (one) => raisedAlert(one),
    );
    telling.onMinute(open, now);
    now = Date.UTC(2026, 4, 7, 4, 59);
    telling.onMinute(open, now);
    await outbox.pump();
    expect(kinds()).toEqual([]);
    await later(outbox, min);
    telling.onMinute(open, now);
    telling.onMinute(open, now);
    await outbox.pump();
    const first = hook.received[0]?.body;
    expect(first).toMatchObject({ kind: 'digest', heading: 'Daily digest: 2 open', urgency: 'now' });
    await later(outbox, 24 * hour);
    telling.onMinute(open.slice(0, 1), now);
    await outbox.pump();
    expect(hook.received[1]?.body['text']).toContain('Nuc 2: “Brood is chilling” is over.');
    await later(outbox, 24 * hour);
    telling.onMinute([], now);
    await later(outbox, 24 * hour);
    telling.onMinute([], now);
    await outbox.pump();
    expect(store.lastDigest('webhook')).toMatchObject({
      state: 'not-told',
      reason: 'nothing is open and nothing ended',
    });
    expect(kinds()).toEqual(['digest', 'digest', 'digest']);
  });
});

describe('MQTT and the heartbeat', () => {
  it('publishes each message as an event', async () => {
    const { telling, outbox } = farm([read('mqtt', '', null)]);
    telling.onEffects([effect('raised')], now);
    await later(outbox, min);
    expect(published).toHaveLength(1);
    expect(published[0]).toMatchObject({ topic: 'welcomb-status/events', qos: 1, retain: false });
    expect(JSON.parse(published[0]!.payload)).toMatchObject({ kind: 'alert', urgency: 'now' });
  });

  it('beats while well, and falls silent when not', async () => {
    expect(await beat(hook.url, null)).toMatchObject({ ok: true });
    expect(hook.received).toHaveLength(1);
    expect(await beat(hook.url, 'the disk is full')).toMatchObject({ ok: false });
    expect(hook.received).toHaveLength(1);
  });
});
