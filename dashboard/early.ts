/**
 * Runs while the page's scripts are still being fetched and read, which takes a phone longer than the server takes to
 * answer: asks who is here and, for Today, what it shows. `api/client.ts` takes the answers from here instead of asking
 * again. A file of its own: the page's content security policy allows no script in the page itself.
 */
type Early = Record<string, Promise<Response>>;
const patienceMs = 20_000;
const forToday = ['sites', 'alerts?state=open', 'plan?back=14&ahead=7', 'nucs?traces=false'];
const pathOf = (what: string): string => `api/v1/${what}`;

const ask = (path: string): Promise<Response> =>
  fetch(path, {
    headers: { Accept: 'application/json' },
    credentials: 'same-origin',
    cache: 'no-store',
    signal: AbortSignal.timeout(patienceMs),
  });

async function mayLook(answer: Response): Promise<boolean> {
  const me = (await answer.json()) as { readonly signedIn?: boolean; readonly passwordSet?: boolean };
  return me.signedIn === true || me.passwordSet === false;
}

async function askForToday(early: Early, me: Promise<Response>): Promise<void> {
  if (!(await mayLook((await me).clone()))) return;
  for (const path of forToday.map(pathOf)) {
    early[path] = ask(path);
    // Who takes it sees the failure, too.
    early[path].catch(() => undefined);
  }
}

const me = ask(pathOf('me'));
const early: Early = { [pathOf('me')]: me };
(globalThis as { welcombEarly?: Early }).welcombEarly = early;
if (/^(#\/?(today)?)?$/.test(location.hash)) askForToday(early, me).catch(() => undefined);
else me.catch(() => undefined);
