/** The keeper's notification channels, joined to the outbox and to what happens to alerts. */
import { pushKeys } from '../farm/push-keys.ts';
import { farmSetting, farmSettings, notificationChannels, settingKey } from '../farm/settings.ts';
import { isDue } from '../jobs/due.ts';
import { beat, type Heartbeat } from '../notify/heartbeat.ts';
import { browserSender } from '../notify/browser.ts';
import { mailSender } from '../notify/mail.ts';
import { mqttSender, type NucForHub } from '../notify/mqtt.ts';
import { pushSender } from '../notify/push.ts';
import { createOutbox } from '../notify/outbox.ts';
import { readRecipient, type Recipient } from '../notify/recipient.ts';
import type { Sent, Senders } from '../notify/sender.ts';
import { createNotifications } from '../notify/notifications.ts';
import { sendTest } from '../notify/test-message.ts';
import { webhookSender } from '../notify/webhook.ts';
import type { AlertState, Effect } from '../rules/engine/alert-state.ts';
import type { Subject } from '../rules/engine/types.ts';
import type { Store } from '../store/store.ts';
import { HubStates, type HubStatesDeps } from './hub-states.ts';
import { deliveryQueue } from './delivery-queue.ts';
import { titleOf } from '../views/alerts/alert-view.ts';

export interface NotifierDeps extends HubStatesDeps {
  readonly store: Store;
  readonly clock: () => number;
  readonly timeZone: () => string;
  readonly openPages: () => number;
  readonly nucs: () => readonly NucForHub[];
  /** A sentence for the log about a notification channel that can't be used; each is said once. */
  readonly complain: (sentence: string) => void;
  /** What went wrong while nobody waited for it: the outbox could not be read. */
  readonly onError: (error: unknown) => void;
}

export interface Notifier {
  /** Before the new alert states are stored: sent twice is better than never. */
  onEffects(effects: readonly Effect[], nowMs: number): void;
  /** Reminders, digests, the state of each nuc on MQTT; then sends all that is due. */
  onMinute(alerts: Iterable<AlertState>, nowMs: number): Promise<void>;
  /** Sends what is due. */
  pump(): Promise<void>;
  tryChannel(id: string, nowMs: number): Promise<Sent | undefined>;
  /** The call to an address outside by which a dead server is noticed; nothing where none is set. */
  beat(whyNot: string | null): Promise<void>;
  /** Null where no address is set. */
  heartbeat(): Heartbeat | null;
}

export function createNotifier(deps: NotifierDeps): Notifier {
  const { store, clock } = deps;
  const deliveries = deliveryQueue(store.deliveries);
  const complained = new Set<string>();
  const complain = (sentence: string): void => {
    if (complained.has(sentence)) return;
    complained.add(sentence);
    deps.complain(sentence);
  };
  const senders: Senders = {
    mail: mailSender(),
    webhook: webhookSender(),
    mqtt: mqttSender(deps.publish),
    browser: browserSender(deps.openPages),
    push: pushSender({
      keys: () => pushKeys(store.settings),
      contact: () => contactOf(deps, recipients()),
      onEnded: (id, nowMs) => {
        endPush(store, id, nowMs);
      },
    }),
  };
  const recipients = (): Recipient[] => recipientsOf(deps, complain);
  const notifications = createNotifications({
    store: deliveries,
    recipients,
    titleOf,
    timeZoneOf: (subject) => zoneOf(deps, subject),
    digestDue: ({ at, timeZone }, lastMs, nowMs) => isDue({ kind: 'daily', at, timeZone }, lastMs, nowMs),
  });
  const outbox = createOutbox({ store: deliveries, senders, recipients, clock });
  const hub = new HubStates(deps);

  async function publishStates(alerts: readonly AlertState[]): Promise<void> {
    const recipient = recipients().find((one) => one.enabled && one.channel.kind === 'mqtt');
    const published =
      recipient?.channel.kind === 'mqtt'
        ? hub.update(recipient.channel.base, deps.nucs(), alerts, recipient.display)
        : hub.withdraw();
    // What could not be published is tried again next minute; the log need not say it each time.
    await published.catch((error: unknown) => {
      complain(
        `The state of the nucs could not be published over MQTT: ${error instanceof Error ? error.message : String(error)}`,
      );
    });
  }

  return {
    onEffects(effects, nowMs) {
      notifications.onEffects(effects, nowMs);
      outbox.pump().catch(deps.onError);
    },
    async onMinute(alerts, nowMs) {
      const all = [...alerts];
      notifications.onMinute(all, nowMs);
      await Promise.all([outbox.pump(), publishStates(all)]);
    },
    pump: () => outbox.pump(),
    async tryChannel(id, nowMs) {
      const recipient = recipients().find((one) => one.id === id);
      if (recipient) return sendTest(recipient, senders, deliveries, nowMs);
      const unreadable = problemOf(deps, id);
      return unreadable === undefined ? undefined : { ok: false, detail: unreadable, final: true };
    },
    ...heartbeats(deps),
  };
}

function heartbeats({ store, clock }: NotifierDeps): Pick<Notifier, 'beat' | 'heartbeat'> {
  const address = (): string => farmSetting(store.settings, 'heartbeatUrl') ?? '';
  let last: Heartbeat = { sentAtMs: null, problem: null };
  return {
    async beat(whyNot) {
      const url = address();
      if (url === '') return;
      const sent = await beat(url, whyNot);
      last = sent.ok ? { sentAtMs: clock(), problem: null } : { ...last, problem: sent.detail };
    },
    heartbeat: () => (address() === '' ? null : last),
  };
}

/** Whom a push service may turn to: the page, or whoever sends the mails. Null where neither is given. */
function contactOf({ store }: NotifierDeps, all: readonly Recipient[]): string | null {
  const address = farmSetting(store.settings, 'publicAddress') ?? '';
  if (address.startsWith('https:')) return address;
  const senders = all.flatMap(({ channel }) => (channel.kind === 'mail' ? [channel.from] : []));
  return senders[0] === undefined ? null : `mailto:${senders[0]}`;
}

/** Kept, so that the keeper sees which phone it was; nothing is sent to it until it subscribes again. */
function endPush(store: Store, id: string, nowMs: number): void {
  const channel = notificationChannels(store.settings).find((one) => one.id === id);
  if (channel === undefined) return;
  const ended = { ...channel, enabled: false, endedAt: new Date(nowMs).toISOString() };
  store.settings.put(settingKey.notificationChannel(id), ended, { by: 'server', secret: true });
}

const asSecret = (text: string | undefined) =>
  text === undefined || text === ''
    ? null
    : { reveal: () => text, toString: () => '<secret>', toJSON: () => '<secret>' };

function readAll({ store, timeZone }: NotifierDeps) {
  const { display } = farmSettings(store.settings);
  const pageAddress = (farmSetting(store.settings, 'publicAddress') ?? '').replace(/\/+$/, '');
  return notificationChannels(store.settings).map((channel) => ({
    id: channel.id,
    read: readRecipient(
      {
        id: channel.id,
        name: channel.name,
        kind: channel.kind,
        enabled: channel.enabled,
        urgencies: channel.urgencies,
        address: channel.address,
        ...(channel.quietHours ? { quietHours: channel.quietHours } : {}),
        ...(channel.digestAt === undefined ? {} : { digestAt: channel.digestAt }),
      },
      asSecret(channel.secret),
      { ...display, timeZone: timeZone() },
      pageAddress === '' ? null : pageAddress,
    ),
  }));
}

function recipientsOf(deps: NotifierDeps, complain: (sentence: string) => void): Recipient[] {
  return readAll(deps).flatMap(({ read }) => {
    if (read.ok) return [read.recipient];
    complain(read.problem);
    return [];
  });
}

function problemOf(deps: NotifierDeps, id: string): string | undefined {
  const read = readAll(deps).find((one) => one.id === id)?.read;
  return read && !read.ok ? read.problem : undefined;
}

function zoneOf({ store, timeZone }: NotifierDeps, { siteId }: Subject): string {
  return (siteId === undefined ? undefined : store.places.site(siteId)?.timeZone) ?? timeZone();
}
