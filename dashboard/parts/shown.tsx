/** Something of the server's on the page: being fetched, there, old, or not to be had, each in its own words. */
import type { ComponentChildren } from 'preact';
import { age } from '../format/when.ts';
import { clock } from '../state/live.ts';
import type { Resource } from '../state/resource.ts';
import { useResource } from '../state/resource.ts';

interface ShownProps<T> {
  readonly of: Resource<T>;
  /** What it is, for the sentences: `the nucs`. */
  readonly what: string;
  readonly children: (data: T) => ComponentChildren;
}

export function Shown<T>({ of, what, children }: ShownProps<T>) {
  const known = useResource(of);
  if (known.data === undefined) {
    return known.trouble ? (
      <Failed
        words={`${capital(what)} can’t be shown. ${known.trouble.message}`}
        again={() => void of.reload()}
      />
    ) : (
      <Waiting what={what} />
    );
  }
  return (
    <>
      {known.trouble && known.at !== undefined && (
        <p class="notice" role="status">
          Shown as it was {age(clock.value - known.at)} ago. {known.trouble.message}
        </p>
      )}
      {children(known.data)}
    </>
  );
}

export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

export function Waiting({ what }: { what: string }) {
  return (
    <div class="waiting" role="status">
      <span class="hidden-words">Fetching {what} …</span>
      <span class="bone" />
      <span class="bone short" />
      <span class="bone" />
    </div>
  );
}

export function Failed({ words, again }: { words: string; again?: () => void }) {
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

export function Empty({ title, children }: { title: string; children?: ComponentChildren }) {
  return (
    <div class="empty">
      <p class="empty-title">{title}</p>
      {children}
    </div>
  );
}
