/**
 * Runs while the page's scripts are still being fetched and read, which takes a phone longer than the server takes to
 * answer: asks who is here and what Today shows. `api/client.ts` takes the answers from here instead of asking again.
 * A file of its own: the page's content security policy allows no script in the page itself.
 */
type Early = Record<string, Promise<Response>>;
const forToday = ['sites', 'alerts?state=open', 'plan?back=14&ahead=7', 'nucs?traces=false'];

function ask(what: string): [string, Promise<Response>] {
  const path = `api/v1/${what}`;
  const answer = fetch(path, {
    headers: { Accept: 'application/json' },
    credentials: 'same-origin',
    cache: 'no-store',
    signal: AbortSignal.timeout(20_000),
  });
  // Who takes it sees the failure, too.
  answer.catch(() => undefined);
  return [path, answer];
}

const isToday = /^(#\/?(today)?)?$/.test(location.hash);
(globalThis as { welcombEarly?: Early }).welcombEarly = Object.fromEntries(
  ['me', ...(isToday ? forToday : [])].map(ask),
);
