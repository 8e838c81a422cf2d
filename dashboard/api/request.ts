/** From an operation and its parts to a request; pure, so that it can be tested without a network. */
import type { BodyOf, OperationName, Operations, QueryOf } from '../../server/contract/index.ts';
import { addresses } from './addresses.ts';

/** Path parameters are always given as text or a number, whatever the server parses them to. */
type ParamsOf<N extends OperationName> = Operations[N] extends { params: { shape: infer S } }
  ? { readonly [K in keyof S]: string | number }
  : undefined;

/** Only the parts that the operation has, each of them required where it can't be empty. */
export type Ask<N extends OperationName> = (ParamsOf<N> extends undefined
  ? { readonly params?: never }
  : { readonly params: ParamsOf<N> }) &
  (BodyOf<N> extends undefined ? { readonly body?: never } : { readonly body: BodyOf<N> }) &
  (QueryOf<N> extends undefined ? { readonly query?: never } : { readonly query?: QueryOf<N> });

export interface PlainRequest {
  readonly method: string;
  /** Relative to the page, without a leading slash: the page may live below a base path. */
  readonly path: string;
  readonly body: string | undefined;
}

export function requestFor<N extends OperationName>(name: N, ask: Ask<N>): PlainRequest {
  const address = addresses[name];
  const gap = address.indexOf(' ');
  const params: Readonly<Record<string, string | number>> = ask.params ?? {};
  const path = address
    .slice(gap + 1)
    .replace(/\{(\w+)\}/g, (_whole, key: string) => encodeURIComponent(String(params[key] ?? '')));
  const query = new URLSearchParams();
  for (const [key, value] of Object.entries((ask.query ?? {}) as Record<string, unknown>)) {
    if (value !== undefined) query.set(key, String(value));
  }
  const tail = query.size > 0 ? `?${query.toString()}` : '';
  return {
    method: address.slice(0, gap).toUpperCase(),
    path: `api/v1${path}${tail}`,
    body: ask.body === undefined ? undefined : JSON.stringify(ask.body),
  };
}
