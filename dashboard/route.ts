/** Addresses within the page live behind `#`, so that any base path works. */
import { signal } from '@preact/signals';
import type { Route } from './hash.ts';
import { parseHash } from './hash.ts';

export { hashFor } from './hash.ts';

export const route = signal<Route>(parseHash(''));

export function followAddress(): void {
  const read = (): void => {
    route.value = parseHash(location.hash);
  };
  addEventListener('hashchange', read);
  read();
}
