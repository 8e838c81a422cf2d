/** Push messages to this device: the browser's subscription, kept as one of the farm's notification channels. */
import type { NotificationChannel } from '../../server/contract/notifications.ts';
import { call, pageBase, newId } from '../api/client.ts';
import { keep, recall } from './preferences.ts';
import { loadMe, me } from './session.ts';

const key = 'welcomb.push';

interface Kept {
  /** Of the notification channel. */
  readonly id: string;
  /** As it was when it was last handed over. */
  readonly endpoint: string;
}

function kept(): Kept | undefined {
  try {
    return (JSON.parse(recall(key) ?? 'null') as Kept | null) ?? undefined;
  } catch {
    return undefined;
  }
}
export const ownChannelId = (): string | undefined => kept()?.id;

const worker = (): Promise<ServiceWorkerRegistration | undefined> =>
  navigator.serviceWorker.getRegistration();
export const pushPossible = (): boolean => 'PushManager' in window && 'Notification' in window;

function bytesOf(base64url: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64url.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(text, (character) => character.charCodeAt(0));
}

const same = (key: ArrayBuffer | null, other: Uint8Array): boolean =>
  key !== null && new Uint8Array(key).join() === other.join();

/** A subscription for this server's key; one for another key, as after a new start with an empty folder, is replaced. */
async function subscribed(): Promise<PushSubscription> {
  const registration = await worker();
  if (!registration) throw new Error('The page is not ready yet. Try again in a moment.');
  const { publicKey } = await call('pushKey', {});
  const applicationServerKey = bytesOf(publicKey);
  const before = await registration.pushManager.getSubscription();
  if (before && same(before.options.applicationServerKey, applicationServerKey)) return before;
  await before?.unsubscribe();
  try {
    return await registration.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey });
  } catch {
    throw new Error('This browser’s push service could not be reached, or does not allow it.');
  }
}

const fresh = (others: readonly NotificationChannel[]): Omit<NotificationChannel, 'id' | 'secret'> => {
  const device = matchMedia('(pointer: coarse)').matches ? 'Phone' : 'Computer';
  const before = others.filter(({ name }) => name.startsWith(device)).length;
  const name = before === 0 ? device : `${device} ${String(before + 1)}`;
  return { name, kind: 'push', enabled: true, urgencies: ['now', 'today'], address: '' };
};

async function handOver(channels: readonly NotificationChannel[]): Promise<string> {
  const { endpoint = '', keys } = (await subscribed()).toJSON();
  const own = channels.find(({ id, kind }) => id === ownChannelId() && kind === 'push');
  const { id, endedAt: _over, ...channel } = own ?? { ...fresh(channels), id: newId() };
  await call('putTelling', {
    params: { id },
    body: {
      ...channel,
      enabled: true,
      address: endpoint,
      secret: `${keys?.['p256dh'] ?? ''}.${keys?.['auth'] ?? ''}`,
    },
  });
  keep(key, JSON.stringify({ id, endpoint } satisfies Kept));
  return id;
}

/** Push services ask whom they can turn to: this page, unless the keeper gave its address. */
async function giveContact(): Promise<void> {
  const farm = me.peek()?.farm;
  if (farm?.publicAddress !== '' || location.protocol !== 'https:') return;
  await call('putFarm', { body: { ...farm, publicAddress: pageBase(), read: farm } });
  await loadMe();
}

/** Asks the browser, hands its subscription to the server and has a trial message sent. Rejects with a sentence. */
export async function turnOn(channels: readonly NotificationChannel[]): Promise<void> {
  if ((await Notification.requestPermission()) !== 'granted')
    throw new Error('This browser does not allow messages from this page; its settings say why.');
  await giveContact();
  const id = await handOver(channels);
  const { ok, detail } = await call('tryTelling', { params: { id } }, 60_000);
  if (!ok) throw new Error(`The trial message was not sent. ${detail}`);
}

/** After the channel was deleted. */
export async function forgetThisDevice(): Promise<void> {
  keep(key, 'null');
  const registration = await worker();
  await (await registration?.pushManager.getSubscription())?.unsubscribe();
}

/** Browsers change a subscription now and then: a changed one is handed over when the page is next opened. */
export async function followChanges(): Promise<void> {
  const before = kept();
  if (!before || !pushPossible() || Notification.permission !== 'granted') return;
  const registration = await worker();
  const now = await registration?.pushManager.getSubscription();
  if (!registration || now?.endpoint === before.endpoint) return;
  const { items } = await call('listTellings', {});
  if (items.some(({ id }) => id === before.id)) await handOver(items);
  else await forgetThisDevice();
}
