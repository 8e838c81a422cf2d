/** Whether this page can be opened without signal, and why not where it can't. */
import { signal } from '@preact/signals';
import { pageBase } from '../api/client.ts';

export type Offline = 'starting' | 'ready' | 'not-secure' | 'not-possible';
export const offline = signal<Offline>('starting');

/** Browsers let a page keep itself only over HTTPS or on this very machine. */
export function registerOffline(): void {
  if (!isSecureContext) {
    offline.value = 'not-secure';
    return;
  }
  if (!('serviceWorker' in navigator) || import.meta.env.DEV) {
    offline.value = 'not-possible';
    return;
  }
  navigator.serviceWorker.register(new URL('service-worker.js', pageBase()), { scope: './' }).then(
    () => navigator.serviceWorker.ready.then(() => (offline.value = 'ready')),
    () => (offline.value = 'not-possible'),
  );
}
