/** Something of the server's that the page shows: kept while it is old, replaced when the new one is there. */
import type { Signal } from '@preact/signals';
import { signal } from '@preact/signals';
import { useLayoutEffect } from 'preact/hooks';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import type { Trouble } from '../api/trouble.ts';
import { onLive } from './live.ts';

export interface Known<T> {
  readonly data: T | undefined;
  /** By this device's clock. */
  readonly at: number | undefined;
  readonly trouble: Trouble | undefined;
  readonly busy: boolean;
}

export interface Resource<T> {
  readonly known: Signal<Known<T>>;
  reload(): Promise<void>;
  /** Changes what is shown without asking the server. */
  patch(change: (data: T) => T): void;
  /** A page that shows it: it is fetched when old, and again when the server says that it changed. */
  watch(): () => void;
}

/** Bursts of events ask once; what is fresher than this is not asked for again when a page opens. */
const gatherMs = 400;
const freshMs = 10_000;
/** The page's first questions and its stream start together; in so short a time nothing is missed. */
const gapMs = 3_000;

export function resource<T>(load: () => Promise<T>, concerns: (event: LiveEvent) => boolean): Resource<T> {
  const known = signal<Known<T>>({ data: undefined, at: undefined, trouble: undefined, busy: false });
  let watchers = 0;
  let outdated = false;
  let startedAt = 0;
  let running: Promise<void> | undefined;
  let again = false;
  let gathering: ReturnType<typeof setTimeout> | undefined;

  async function fetchOnce(): Promise<void> {
    known.value = { ...known.value, busy: true };
    outdated = false;
    startedAt = Date.now();
    try {
      known.value = { data: await load(), at: Date.now(), trouble: undefined, busy: false };
    } catch (error) {
      known.value = { ...known.value, trouble: error as Trouble, busy: false };
    }
  }
  function reload(): Promise<void> {
    if (running) {
      again = true;
      return running;
    }
    running = fetchOnce().then(() => {
      running = undefined;
      if (!again) return undefined;
      again = false;
      return reload();
    });
    return running;
  }
  onLive((event) => {
    // The stream has begun (again): what was asked for before it may have changed unheard.
    const missed = event.type === 'hello' && Date.now() - startedAt > gapMs;
    if (!missed && (event.type === 'hello' || !concerns(event))) return;
    outdated = true;
    if (watchers === 0) return;
    clearTimeout(gathering);
    gathering = setTimeout(() => void reload(), gatherMs);
  });
  return {
    known,
    reload,
    patch(change) {
      const { data } = known.peek();
      if (data !== undefined) known.value = { ...known.peek(), data: change(data) };
    },
    watch() {
      watchers += 1;
      const { at, trouble } = known.peek();
      const old = outdated || trouble || at === undefined || Date.now() - at > freshMs;
      if (old && !running) void reload();
      return () => {
        watchers -= 1;
      };
    },
  };
}

/** Resources with an argument (one nuc, one channel): the newest few are kept. */
export function resourceFamily<T>(
  load: (key: string) => Promise<T>,
  concerns: (event: LiveEvent, key: string) => boolean,
): (key: string) => Resource<T> {
  const kept = new Map<string, Resource<T>>();
  return (key) => {
    let one = kept.get(key);
    if (!one) {
      one = resource(
        () => load(key),
        (event) => concerns(event, key),
      );
      kept.set(key, one);
    }
    return one;
  };
}

export function useResource<T>(of: Resource<T>): Known<T> {
  // Before the first paint: the question is on its way while the page is drawn.
  useLayoutEffect(() => of.watch(), [of]);
  return of.known.value;
}
