/** What stands behind `#` in the address: a page, perhaps one thing on it, and a query. Pure. */

export interface Route {
  readonly page: string;
  readonly id: string | undefined;
  readonly query: URLSearchParams;
}

/** `#/nucs/n7?on=release` → page `nucs`, id `n7`. */
export function parseHash(hash: string): Route {
  const [path = '', query = ''] = hash.replace(/^#\/?/, '').split('?');
  const [page = '', id] = path.split('/');
  return {
    page: page === '' ? 'today' : page,
    id: id === undefined || id === '' ? undefined : decode(id),
    query: new URLSearchParams(query),
  };
}

function decode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

export function hashFor(
  page: string,
  id?: string,
  query: Readonly<Record<string, string | undefined>> = {},
): string {
  const asked = new URLSearchParams();
  for (const [key, value] of Object.entries(query)) if (value !== undefined) asked.set(key, value);
  const tail = asked.size > 0 ? `?${asked.toString()}` : '';
  return `#/${page}${id === undefined ? '' : `/${encodeURIComponent(id)}`}${tail}`;
}
