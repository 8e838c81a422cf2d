/** Pages are fetched when they are first opened; the first page does not wait for the others. */
import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { LoadFailed, Loading } from './parts/resource-view.tsx';

type Loader = () => Promise<{ readonly default: ComponentType }>;

export function Lazy({ of }: { of: Loader }) {
  const [Page, setPage] = useState<ComponentType | undefined>();
  const [failed, setFailed] = useState(false);
  const load = (): void => {
    setFailed(false);
    of().then(
      (module) => {
        setPage(() => module.default);
      },
      () => {
        setFailed(true);
      },
    );
  };
  useEffect(load, [of]);
  if (Page) return <Page />;
  if (failed)
    return <LoadFailed words="This page could not be fetched; the server does not answer." again={load} />;
  return <Loading what="the page" />;
}
