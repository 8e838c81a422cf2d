/** A notification of the browser for a raised alert, where this device asked for it. */
import { signal } from '@preact/signals';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import { hashFor } from '../route.ts';
import { urgencyWords } from '../words/labels.ts';
import { onLive } from './live.ts';
import { keep, recall } from './preferences.ts';

const key = 'welcomb.notes';
export const notificationsWanted = signal(recall(key) === 'yes');

/** A sentence where it could not be done. */
export async function askForNotifications(wanted: boolean): Promise<string> {
  const allowed = wanted && (await Notification.requestPermission()) === 'granted';
  notificationsWanted.value = allowed;
  keep(key, allowed ? 'yes' : 'no');
  return wanted && !allowed ? 'This browser does not allow it for this page; its settings say why.' : '';
}

type AlertEvent = Extract<LiveEvent, { type: 'alert' }>;

/** What somebody has done, such as opening an alert again, is no news to the page that it was done on. */
const news = ['raised', 'worsened', 'put-off-over', 'still-so'];
const shown = new Set<string>();

/** The same alert is new again where it is more urgent, or comes back after a time. */
function isNew({ id, phase, urgency }: AlertEvent): boolean {
  if (!news.includes(phase) || urgency === 'next-visit') return false;
  if (phase !== 'raised' && phase !== 'worsened') return true;
  const what = `${id} ${urgency}`;
  if (shown.has(what)) return false;
  shown.add(what);
  return true;
}

function note(event: AlertEvent): void {
  if (!isNew(event)) return;
  // Takes the place of an earlier one about the same alert, and makes itself heard anew.
  const options: NotificationOptions & { renotify: boolean } = { tag: event.id, renotify: true };
  const notification = new Notification(`${urgencyWords[event.urgency]}: ${event.headline}`, options);
  notification.onclick = () => {
    focus();
    location.hash = hashFor('today');
  };
}

export function startNotifications(): void {
  onLive((event) => {
    if (event.type === 'alert' && notificationsWanted.value && 'Notification' in window) note(event);
  });
}
