/**
 * Keeps the page itself (never the farm's data) on the device, so that it opens without signal. The list of files is
 * written in by the build; its hash is the name of the shelf, so a new build gets a new one and the old is cleared.
 */
/// <reference lib="webworker" />
import { showPushMessages } from './push-messages.ts';

declare const self: ServiceWorkerGlobalScope;
declare const __PAGE_FILES__: readonly string[];
declare const __PAGE_HASH__: string;

const shelf = `welcomb-${__PAGE_HASH__}`;
const base = new URL('./', self.location.href);

self.addEventListener('install', (event) => {
  const files = ['./', ...__PAGE_FILES__].map((file) => new URL(file, base).href);
  event.waitUntil(
    caches
      .open(shelf)
      .then((cache) => cache.addAll(files))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) =>
        Promise.all(
          names
            .filter((name) => name.startsWith('welcomb-') && name !== shelf)
            .map((name) => caches.delete(name)),
        ),
      )
      .then(() => self.clients.claim()),
  );
});

const isPage = (url: URL): boolean =>
  url.origin === base.origin &&
  url.pathname.startsWith(base.pathname) &&
  !/\/(api|calendar|healthz)(\/|$)/.test(url.pathname);

/** Setting: a server that can be reached sends the page sooner; on a line that is nearly gone nobody waits longer. */
const patienceMs = 3_000;

/** The page: the server's when it answers soon, else the kept one. Its hashed parts never change, so the kept ones do. */
async function answer(request: Request): Promise<Response> {
  const cache = await caches.open(shelf);
  if (request.mode !== 'navigate') {
    return (await cache.match(request, { ignoreSearch: true })) ?? fetch(request);
  }
  const kept = await cache.match(base.href);
  const fetched = fetch(request);
  if (!kept) return fetched;
  return new Promise((resolve) => {
    const takeKept = (): void => {
      resolve(kept);
    };
    setTimeout(takeKept, patienceMs);
    fetched.then(resolve, takeKept);
  });
}

showPushMessages(self, base);

self.addEventListener('fetch', (event) => {
  if (event.request.method === 'GET' && isPage(new URL(event.request.url)))
    event.respondWith(answer(event.request));
});
