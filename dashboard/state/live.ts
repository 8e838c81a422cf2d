/** What the server tells by itself, and whether it can be heard at all. */
import { computed, signal } from '@preact/signals';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import { call, pageBase } from '../api/client.ts';

export type Connection = 'connecting' | 'live' | 'lost';
export const connection = signal<Connection>('connecting');
/** When the server was last heard, by this device's clock. */
export const heardAt = signal<number | undefined>(undefined);
/** This device's clock, ticking; ages on the page follow it. */
export const clock = signal(Date.now());
/** How far the server's clock is ahead of this device's, ms: plans and rails go by the server's. */
export const serverAheadMs = signal(0);
export const serverNow = computed(() => clock.value + serverAheadMs.value);
/** The same, changing once a minute: days, dates and ages of hours need not be drawn anew every second. */
export const serverMinute = computed(() => Math.floor(serverNow.value / 60_000) * 60_000);

const listeners = new Set<(event: LiveEvent) => void>();
export function onLive(listener: (event: LiveEvent) => void): () => void {
  listeners.add(listener);
  return () => {
    listeners.delete(listener);
  };
}

export function tell(event: LiveEvent): void {
  for (const listener of listeners) listener(event);
}

const longestWaitMs = 30_000;
const quietForMs = 30_000;
let source: EventSource | undefined;
let waitMs = 1_000;
let retry: ReturnType<typeof setTimeout> | undefined;

function heard(atMs = Date.now()): void {
  heardAt.value = atMs;
  connection.value = 'live';
  waitMs = 1_000;
}

function take(text: string, atMs = Date.now()): void {
  heard(atMs);
  const event = JSON.parse(text) as LiveEvent;
  if (event.type === 'hello') serverAheadMs.value = Date.parse(event.time) - atMs;
  tell(event);
}

function lost(): void {
  connection.value = 'lost';
  source?.close();
  source = undefined;
  clearTimeout(retry);
  retry = setTimeout(listen, waitMs);
  waitMs = Math.min(longestWaitMs, waitMs * 2);
}

interface EarlyStream {
  readonly source: EventSource;
  readonly heard: readonly { readonly text: string; readonly atMs: number }[];
}

/** What `early.ts` began to listen to, once, if it is still there. */
function earlyStream(): EarlyStream | undefined {
  const found = globalThis as { welcombStream?: EarlyStream };
  const early = found.welcombStream;
  delete found.welcombStream;
  return early?.source.readyState === EventSource.CLOSED ? undefined : early;
}

export function listen(): void {
  clearTimeout(retry);
  source?.close();
  const early = earlyStream();
  source = early?.source ?? new EventSource(new URL('api/v1/events', pageBase()));
  source.onmessage = (message: MessageEvent<string>) => {
    take(message.data);
  };
  source.onerror = lost;
  for (const { text, atMs } of early?.heard ?? []) take(text, atMs);
}

export function stopListening(): void {
  clearTimeout(retry);
  source?.close();
  source = undefined;
}

/** A connection can die without a word. After a quiet half minute the server is asked whether it is there. */
async function askWhenQuiet(): Promise<void> {
  if (source === undefined || Date.now() - (heardAt.value ?? 0) < quietForMs) return;
  try {
    await call('me', {}, 8_000);
    heard();
  } catch {
    lost();
  }
}

export function startClock(): void {
  setInterval(() => {
    if (document.visibilityState === 'visible') clock.value = Date.now();
  }, 1_000);
  setInterval(() => {
    void askWhenQuiet();
  }, 10_000);
  const wake = (): void => {
    clock.value = Date.now();
    if (document.visibilityState !== 'visible') return;
    if (connection.value === 'lost') {
      waitMs = 1_000;
      listen();
    } else void askWhenQuiet();
  };
  document.addEventListener('visibilitychange', wake);
  addEventListener('online', wake);
  addEventListener('offline', lost);
}
