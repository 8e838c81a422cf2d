/** What the page shows of the server: fetched, kept with its age, fetched again when the event stream says that it changed. */
import type { Signal } from '@preact/signals';
import { signal } from '@preact/signals';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import type { Trouble } from '../api/trouble.ts';
import { onLive } from './live.ts';

export interface Snapshot<T> {
  readonly data: T | undefined;
  /** By this device's clock. */
  readonly at: number | undefined;
  readonly trouble: Trouble | undefined;
}
const nothing: Snapshot<never> = { data: undefined, at: undefined, trouble: undefined };

/** What an event of the stream, or this page itself after it has stored something, says to have changed. */
export interface Change {
  readonly type: LiveEvent['type'];
  readonly id?: string;
  /** Of a reading: where it was taken. */
  readonly hiveId?: string | undefined;
}

export interface Resource<T> {
  readonly snapshot: Signal<Snapshot<T>>;
  reload(): Promise<void>;
  /** Changes what is shown without asking the server; `change` leaves alone what is newer than it. */
  patch(change: (data: T) => T): void;
  /** A page that shows it: it is fetched when old, and again when the server says that it changed. */
  watch(): () => void;
}

interface Kept<T> extends Resource<T> {
  isWatched(): boolean;
  drop(): void;
}

interface ResourceOptions<T> {
  /** Without it only `reload` fetches it again. */
  readonly changedBy?: (change: Change) => boolean;
  /** Events fetch it no oftener than this, ms. */
  readonly pauseMs?: (data: T | undefined) => number;
}

/** Bursts of events ask once; what is fresher than this is not asked for again when a page opens. */
const gatherMs = 400;
const freshMs = 10_000;
/** The page's first questions and its stream start together; in so short a time nothing is missed. */
const gapMs = 3_000;

const all = new Set<(change: Change) => Promise<void> | undefined>();

/** After this page stored something: fetches again what is shown of it, and the rest when it is next shown. */
export async function changed(change: Change): Promise<void> {
  await Promise.all([...all].map((hear) => hear(change)));
}

/** Asked for while it runs, it runs once more afterwards; both askers wait for that. */
function oneAtATime(once: () => Promise<void>) {
  let running: Promise<void> | undefined;
  let again = false;
  const run = (): Promise<void> => {
    if (running) {
      again = true;
      return running;
    }
    running = once().then(() => {
      running = undefined;
      if (!again) return undefined;
      again = false;
      return run();
    });
    return running;
  };
  return { run, isRunning: () => running !== undefined };
}

export function resource<T>(load: () => Promise<T>, options: ResourceOptions<T> = {}): Kept<T> {
  const { changedBy = () => false, pauseMs = () => gatherMs } = options;
  const snapshot = signal<Snapshot<T>>(nothing);
  let watchers = 0;
  let outdated = false;
  let startedAt = 0;
  let planned: ReturnType<typeof setTimeout> | undefined;
  /** Made while an answer is on its way, which may be older than they are. */
  let patches: ((data: T) => T)[] = [];

  async function fetchOnce(): Promise<void> {
    outdated = false;
    startedAt = Date.now();
    patches = [];
    try {
      let data: T = await load();
      for (const patch of patches) data = patch(data);
      snapshot.value = { data, at: Date.now(), trouble: undefined };
    } catch (error) {
      snapshot.value = { ...snapshot.peek(), trouble: error as Trouble };
    }
  }
  const { run: reload, isRunning } = oneAtATime(fetchOnce);
  const hear = (change: Change): Promise<void> | undefined => {
    if (!changedBy(change)) return undefined;
    outdated = true;
    return watchers > 0 ? reload() : undefined;
  };
  all.add(hear);
  const unlisten = onLive((event) => {
    // The stream has begun (again): what was asked for before it may have changed unheard.
    const missed = event.type === 'hello' && Date.now() - startedAt > gapMs;
    if (!missed && (event.type === 'hello' || !changedBy(event))) return;
    outdated = true;
    if (watchers === 0) return;
    // The first event of a burst sets the time: a stream that never rests would put it off for ever.
    planned ??= setTimeout(
      () => {
        planned = undefined;
        if (watchers > 0 && outdated) void reload();
      },
      Math.max(gatherMs, startedAt + pauseMs(snapshot.peek().data) - Date.now()),
    );
  });
  return {
    snapshot,
    reload,
    patch(change) {
      if (isRunning()) patches.push(change);
      const { data } = snapshot.peek();
      if (data !== undefined) snapshot.value = { ...snapshot.peek(), data: change(data) };
    },
    watch() {
      watchers += 1;
      const { at, trouble } = snapshot.peek();
      const old = outdated || trouble || at === undefined || Date.now() - at > freshMs;
      if (old && !isRunning()) void reload();
      return () => {
        watchers -= 1;
      };
    },
    isWatched: () => watchers > 0,
    drop() {
      all.delete(hear);
      unlisten();
      clearTimeout(planned);
    },
  };
}

export interface ResourceFamily<T> {
  (key: string): Resource<T>;
  /** The one that is there already, if it is. */
  kept(key: string): Resource<T> | undefined;
}

interface FamilyOptions<T> {
  readonly changedBy?: (change: Change, key: string) => boolean;
  readonly pauseMs?: ResourceOptions<T>['pauseMs'];
}
const mostKept = 40;

/** Resources with an argument (one nuc, one channel, one question): those on show and the newest few are kept. */
export function resourceFamily<T>(
  load: (key: string) => Promise<T>,
  { changedBy = () => false, pauseMs }: FamilyOptions<T> = {},
): ResourceFamily<T> {
  const byKey = new Map<string, Kept<T>>();
  function dropOldest(): void {
    for (const [key, one] of byKey) {
      if (byKey.size <= mostKept) return;
      if (one.isWatched()) continue;
      one.drop();
      byKey.delete(key);
    }
  }
  const family = (key: string): Resource<T> => {
    const one =
      byKey.get(key) ??
      resource(() => load(key), {
        changedBy: (change) => changedBy(change, key),
        ...(pauseMs && { pauseMs }),
      });
    // The newest at the end.
    byKey.delete(key);
    byKey.set(key, one);
    dropOldest();
    return one;
  };
  return Object.assign(family, { kept: (key: string) => byKey.get(key) });
}

/** `undefined` where there is nothing to ask for (yet). */
export function useResource<T>(of: Resource<T> | undefined): Snapshot<T> {
  // Before the first paint: the question is on its way while the page is drawn.
  useLayoutEffect(() => of?.watch(), [of]);
  return of?.snapshot.value ?? nothing;
}

const restMs = 250;

interface Asked<T> extends Snapshot<T> {
  readonly reload: () => void;
}

/**
 * For a question that somebody is still changing: asked when it has rested for a moment (the first at once), and until
 * the answer is there the one before it is shown. `undefined` where it can't be asked yet.
 */
export function useAnswer<T>(family: ResourceFamily<T>, question: object | undefined): Asked<T> {
  const key = question && JSON.stringify(question);
  const [rested, setRested] = useState(key);
  const waits = rested !== undefined;
  useEffect(() => {
    const timer = setTimeout(
      () => {
        setRested(key);
      },
      waits ? restMs : 0,
    );
    return () => {
      clearTimeout(timer);
    };
  }, [key, waits]);
  const of = rested === undefined ? undefined : family(rested);
  const snapshot = useResource(of);
  const before = useRef<Snapshot<T>>(nothing);
  if (snapshot.data !== undefined) before.current = snapshot;
  return {
    ...before.current,
    trouble: snapshot.trouble,
    reload: () => void of?.reload(),
  };
}
