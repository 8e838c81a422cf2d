/** Messages to a device: turned on in one tap, shown while no page is looked at, opened below a base path, taken back. */
import { describe, expect, it } from 'vitest';
import { missing, wholeChromium } from '../support/programs.ts';
import { phone, visit, type Visit } from './visit.ts';

const button = 'Send messages to this device';

/** A browser of a test reaches no push service: what it would hand over is made up, and all else is the page's own. */
const subscribing = `
  Notification.requestPermission = () => Promise.resolve('granted');
  const key = new Uint8Array(65); key[0] = 4;
  let current = null;
  PushManager.prototype.getSubscription = () => Promise.resolve(current);
  PushManager.prototype.subscribe = function (options) {
    current = {
      endpoint: 'https://push.example.net/send/abc',
      options,
      toJSON: () => ({ endpoint: 'https://push.example.net/send/abc', keys: { p256dh: 'B' + 'A'.repeat(86), auth: 'A'.repeat(22) } }),
      unsubscribe: () => { current = null; return Promise.resolve(true); },
    };
    window.asked = { userVisibleOnly: options.userVisibleOnly, bytes: options.applicationServerKey.length };
    return Promise.resolve(current);
  };`;

const allowed = { viewport: phone, serviceWorkers: 'allow' } as const;
const changesOf = ({ fixture }: Visit): readonly string[] => fixture.changes.map(({ name }) => name);

describe.skipIf(missing('Chromium', wholeChromium))('messages to this device', () => {
  it('are off until one tap subscribes, saves and tries; deleted, the device subscribes no more', async () => {
    const at = await visit({ context: allowed });
    await at.page.addInitScript(subscribing);
    await at.open('#/settings');
    const turnOn = at.page.getByRole('button', { name: button });
    await turnOn.waitFor();
    await at.page.getByText('encrypted through the service of the browser’s maker').waitFor();
    expect(changesOf(at)).toEqual([]);
    await turnOn.click();
    await expect.poll(() => changesOf(at)).toEqual(['pushKey', 'putTelling', 'tryTelling']);
    expect(at.fixture.changes[1]?.body).toMatchObject({
      name: 'Computer',
      kind: 'push',
      enabled: true,
      urgencies: ['now', 'today'],
      address: 'https://push.example.net/send/abc',
      secret: `B${'A'.repeat(86)}.${'A'.repeat(22)}`,
    });
    expect(await at.page.evaluate('window.asked')).toEqual({ userVisibleOnly: true, bytes: 65 });
    // What the trial message met is said; the answer of this server is that it could not be sent.
    await at.page.getByText('The trial message was not sent.').waitFor();
    await at.page.reload();
    await at.page.getByText('This device gets messages').waitFor();
    await at.page.getByRole('button', { name: 'Delete … Computer' }).click();
    await at.page.getByRole('button', { name: 'Delete it' }).click();
    await turnOn.waitFor();
    await at.end();
  });

  it('need HTTPS, and the page says so', async () => {
    const at = await visit({ context: allowed });
    await at.page.addInitScript(`Object.defineProperty(window, 'isSecureContext', { value: false });`);
    await at.open('#/settings');
    await at.page.getByText('This needs HTTPS').waitFor();
    expect(await at.page.getByRole('button', { name: button }).count()).toBe(0);
    await at.end();
  });

  it('are shown by the service worker, and a tap opens that nuc below the base path', async () => {
    const at = await visit({ context: allowed, fixture: { basePath: '/bees' }, isWhole: true });
    await at.context.grantPermissions(['notifications'], { origin: new URL(at.fixture.url).origin });
    await at.open('#/today');
    await expect.poll(() => at.page.evaluate('navigator.serviceWorker.controller !== null')).toBe(true);
    const [worker] = at.context.serviceWorkers();
    if (!worker) throw new Error('no service worker');
    // The worker may hear of the permission later than the page, and shows nothing before.
    await expect.poll(() => worker.evaluate('Notification.permission')).toBe('granted');
    await worker.evaluate(`(() => {
      self.opened = [];
      self.clients.openWindow = (url) => { self.opened.push(url); return Promise.resolve(null); };
      self.clients.matchAll = () => Promise.resolve([]);
      const show = self.registration.showNotification.bind(self.registration);
      self.registration.showNotification = (...asked) => (self.showing = show(...asked));
    })()`);
    const shown = `navigator.serviceWorker.ready.then((r) => r.getNotifications()).then((all) =>
      all.map(({ title, body, tag, data }) => ({ title, body, tag, data })))`;
    // Chromium forgets a notification that is asked for before it is on the screen.
    const push = async (data: string): Promise<void> => {
      await worker.evaluate(`(async () => {
        self.dispatchEvent(new PushEvent('push', { data: ${JSON.stringify(data)} }));
        await self.showing;
      })()`);
    };
    await push(
      JSON.stringify({
        heading: 'Now: Brood is chilling, Elm 3',
        text: 'Warm it now.',
        tag: 'cold/1',
        page: '#/nucs/n3',
        urgency: 'now',
      }),
    );
    await expect
      .poll(() => at.page.evaluate(shown))
      .toEqual([
        {
          title: 'Now: Brood is chilling, Elm 3',
          body: 'Warm it now.',
          tag: 'cold/1',
          data: { page: '#/nucs/n3' },
        },
      ]);
    // A tap that its notification knows; a page address from elsewhere opens Today.
    const tap = `self.registration.getNotifications().then(([notification]) =>
      self.dispatchEvent(new NotificationEvent('notificationclick', { notification })))`;
    await worker.evaluate(tap);
    await expect.poll(() => worker.evaluate('self.opened')).toEqual([`${at.fixture.url}#/nucs/n3`]);
    await push('{"heading":"Odd","page":"https://elsewhere.example/"}');
    await expect.poll(() => at.page.evaluate(shown)).toMatchObject([{ title: 'Odd' }]);
    await worker.evaluate(tap);
    await expect
      .poll(() => worker.evaluate('self.opened'))
      .toEqual([`${at.fixture.url}#/nucs/n3`, `${at.fixture.url}#/today`]);
    await push('not JSON');
    await expect.poll(() => at.page.evaluate(shown)).toMatchObject([{ title: 'Welcomb' }]);
    await at.end();
  });
});
