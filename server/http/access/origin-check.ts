/**
 * Refuses changes that another site's page asks for in the name of whoever is signed in, or of the keeper at the
 * machine before a password is set (cross-site request forgery).
 *
 * Browsers say where a changing request comes from in `Origin`, newer ones in `Sec-Fetch-Site` too; a page can't
 * forge either. Both are checked where they are there. A request with neither is not from a current browser: with a
 * session cookie it then needs the session's token from `GET /me` in `X-CSRF-Token`; without a cookie (a script, a
 * bearer token) there is nothing to abuse.
 */
import type { Request } from 'express';

export type OriginVerdict = 'ours' | 'foreign' | 'unsaid';

export const changes = (method: string): boolean => !['GET', 'HEAD', 'OPTIONS'].includes(method);

/** @param own the origin that the request was sent to, as the browser sees it: scheme, name and port */
export function originVerdict(headers: Request['headers'], own: string): OriginVerdict {
  const { origin } = headers;
  const site = headers['sec-fetch-site'];
  if (origin !== undefined) {
    // "null" (sandboxed frames, files) is nobody's origin.
    if (!URL.canParse(origin) || !URL.canParse(own)) return 'foreign';
    // The scheme may differ where a proxy that ends TLS does not say so.
    if (new URL(origin).host !== new URL(own).host) return 'foreign';
  }
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return 'foreign';
  return origin === undefined && site === undefined ? 'unsaid' : 'ours';
}
