/** Something of the server's on the page: being fetched, there, old, or not to be had, each in its own words. */
import type { ComponentChildren } from 'preact';
import { age } from '../format/when.ts';
import { clock } from '../state/live.ts';
import type { Snapshot, Resource } from '../state/resource.ts';
import { useResource } from '../state/resource.ts';

interface ResourceViewProps<T> {
  readonly of: Resource<T>;
  /** What it is, for the sentences: `the nucs`. */
  readonly what: string;
  readonly children: (data: T) => ComponentChildren;
}

export const ResourceView = <T,>({ of, ...rest }: ResourceViewProps<T>) => (
  <SnapshotView snapshot={useResource(of)} reload={() => void of.reload()} {...rest} />
);

interface SnapshotViewProps<T> extends Omit<ResourceViewProps<T>, 'of'> {
  readonly snapshot: Snapshot<T>;
  readonly reload: () => void;
}

export function SnapshotView<T>({
  snapshot: { data, at, trouble },
  reload,
  what,
  children,
}: SnapshotViewProps<T>) {
  if (data === undefined) {
    return trouble ? (
      <LoadFailed words={`${capital(what)} can’t be shown. ${trouble.message}`} again={reload} />
    ) : (
      <Loading what={what} />
    );
  }
  return (
    <>
      {trouble && at !== undefined && (
        <p class="notice" role="status">
          Shown as it was {age(clock.value - at)} ago. {trouble.message}
        </p>
      )}
      {children(data)}
    </>
  );
}

export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

export function Loading({ what }: { what: string }) {
  return (
    <div class="waiting" role="status">
      <span class="hidden-words">Fetching {what} …</span>
      <span class="bone" />
      <span class="bone short" />
      <span class="bone" />
    </div>
  );
}

export function LoadFailed({ words, again }: { words: string; again?: () => void }) {
  return (
    <div class="failed" role="alert">
      <p>{words}</p>
      {again && (
        <button type="button" onClick={again}>
          Ask again
        </button>
      )}
    </div>
  );
}

export function EmptyState({ title, children }: { title: string; children?: ComponentChildren }) {
  return (
    <div class="empty">
      <p class="empty-title">{title}</p>
      {children}
    </div>
  );
}
