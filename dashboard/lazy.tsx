/** Pages, and large parts of them, are fetched when they are first opened; the first page does not wait for them. */
import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { capital, LoadFailed, Loading } from './parts/resource-view.tsx';

type Loader = () => Promise<{ readonly default: ComponentType }>;

function useFetched<T>(of: () => Promise<T>) {
  const [fetched, setFetched] = useState<{ readonly it: T } | undefined>();
  const [failed, setFailed] = useState(false);
  const load = (): void => {
    setFailed(false);
    of().then(
      (it) => {
        setFetched({ it });
      },
      () => {
        setFailed(true);
      },
    );
  };
  useEffect(load, [of]);
  return { it: fetched?.it, failed, load };
}

export function Lazy({ of }: { of: Loader }) {
  const { it, failed, load } = useFetched(of);
  if (it) return <it.default />;
  if (failed)
    return <LoadFailed words="This page could not be fetched; the server does not answer." again={load} />;
  return <Loading what="the page" />;
}

/** A part of a page, such as `the charts`, with its properties. */
export function lazyPart<P extends object>(
  load: () => Promise<ComponentType<P>>,
  what: string,
): ComponentType<P> {
  return function Part(props: P) {
    const { it: Found, failed, load: again } = useFetched(load);
    if (Found) return <Found {...props} />;
    if (failed) return <LoadFailed words={`${capital(what)} could not be fetched.`} again={again} />;
    return <Loading what={what} />;
  };
}
