/** Where a label leads: the log of one nuc, at the address by which phones reach this server. Pure. */
import { hashFor } from '../hash.ts';

/** Ends in a slash and has no hash; undefined where it is no address of a page. */
export function cleanAddress(typed: string): string | undefined {
  try {
    const { protocol, origin, pathname } = new URL(typed.trim());
    if (protocol !== 'http:' && protocol !== 'https:') return undefined;
    return `${origin}${pathname.endsWith('/') ? pathname : `${pathname}/`}`;
  } catch {
    return undefined;
  }
}

export const labelAddress = (base: string, nucId: string): string =>
  `${base}${hashFor('log', undefined, { nuc: nucId })}`;

/** A phone that scans it would ask itself. */
export const isThisMachine = (base: string): boolean =>
  /^(localhost|127\.\d+\.\d+\.\d+|\[::1\])$/.test(new URL(base).hostname);
