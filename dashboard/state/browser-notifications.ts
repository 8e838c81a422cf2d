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

const shown = new Set<string>();

function note(event: Extract<LiveEvent, { type: 'alert' }>): void {
  if (event.phase !== 'raised' || event.urgency === 'next-visit' || shown.has(event.id)) return;
  shown.add(event.id);
  const notification = new Notification(`${urgencyWords[event.urgency]}: ${event.headline}`, {
    tag: event.id,
  });
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
