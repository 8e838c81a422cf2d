/** Something of the server's on the page: being fetched, there, old, or not to be had, each in its own words. */
import type { ComponentChildren } from 'preact';
import { age } from '../format/when.ts';
import { clock } from '../state/live.ts';
import type { Known, Resource } from '../state/resource.ts';
import { useResource } from '../state/resource.ts';

interface ShownProps<T> {
  readonly of: Resource<T>;
  /** What it is, for the sentences: `the nucs`. */
  readonly what: string;
  readonly children: (data: T) => ComponentChildren;
}

export const Shown = <T,>({ of, ...rest }: ShownProps<T>) => (
  <KnownView known={useResource(of)} reload={() => void of.reload()} {...rest} />
);

interface KnownViewProps<T> extends Omit<ShownProps<T>, 'of'> {
  readonly known: Known<T>;
  readonly reload: () => void;
}

export function KnownView<T>({ known: { data, at, trouble }, reload, what, children }: KnownViewProps<T>) {
  if (data === undefined) {
    return trouble ? (
      <Failed words={`${capital(what)} can’t be shown. ${trouble.message}`} again={reload} />
    ) : (
      <Waiting what={what} />
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
