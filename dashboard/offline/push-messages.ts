/** A push message becomes a notification of the device; a tap on it opens the page that it is about. */
/// <reference lib="webworker" />

interface Message {
  readonly heading: string;
  readonly text: string;
  readonly tag: string;
  /** Below the page's own address, such as `#/nucs/n3`. */
  readonly page: string;
  readonly urgency: string;
}

/** Browsers want something shown for every message, so one that can't be read is shown, too. */
const unreadable: Message = {
  heading: 'Welcomb',
  text: 'Open the page: a message could not be read.',
  tag: 'unreadable',
  page: '#/today',
  urgency: 'today',
};

function messageIn(data: PushMessageData | null): Message {
  try {
    const message = data?.json() as Partial<Message> | null | undefined;
    return typeof message?.heading === 'string' ? { ...unreadable, ...message } : unreadable;
  } catch {
    return unreadable;
  }
}

const isPage = (page: unknown): page is string => typeof page === 'string' && page.startsWith('#/');

/** `base` is the folder in which the page lies, below whatever base path. */
export function showPushMessages(worker: ServiceWorkerGlobalScope, base: URL): void {
  async function open(data: unknown): Promise<void> {
    const { page } = (data ?? {}) as Partial<Message>;
    const address = new URL(isPage(page) ? page : '#/today', base).href;
    const windows = await worker.clients.matchAll({ type: 'window', includeUncontrolled: true });
    const opened = windows.find(({ url }) => url.startsWith(base.href));
    if (!opened) {
      await worker.clients.openWindow(address);
      return;
    }
    await opened.focus();
    await opened.navigate(address);
  }

  worker.addEventListener('push', (event) => {
    const { heading, text, tag, page, urgency } = messageIn(event.data);
    const options = {
      body: text,
      tag,
      // A reminder makes itself heard although it takes the place of what it reminds of.
      renotify: true,
      requireInteraction: urgency === 'now',
      icon: new URL('icon-192.png', base).href,
      actions: [{ action: 'open', title: page.startsWith('#/nucs/') ? 'Open this nuc' : 'Open Today' }],
      data: { page },
    };
    event.waitUntil(worker.registration.showNotification(heading, options));
  });

  worker.addEventListener('notificationclick', (event) => {
    event.notification.close();
    event.waitUntil(open(event.notification.data));
  });
}
