/**
 * Runs while the page's scripts are still being fetched and read, which takes a phone longer than the server takes to
 * answer: asks who is here and, for Today, what it shows. `api/client.ts` takes the answers from here instead of asking
 * again. A file of its own: the page's content security policy allows no script in the page itself.
 */
type Early = Record<string, Promise<Response>>;
interface EarlyStream {
  readonly source: EventSource;
  readonly heard: { readonly text: string; readonly atMs: number }[];
}
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
  return ((await answer.json()) as { readonly signedIn?: boolean }).signedIn === true;
}

async function askForToday(early: Early, me: Promise<Response>): Promise<void> {
  if (!(await mayLook((await me).clone()))) return;
  // First, so that nothing is missed between an answer and the stream.
  const stream: EarlyStream = { source: new EventSource(pathOf('events')), heard: [] };
  stream.source.onmessage = ({ data }: MessageEvent<string>) =>
    stream.heard.push({ text: data, atMs: Date.now() });
  (globalThis as { welcombStream?: EarlyStream }).welcombStream = stream;
  for (const path of forToday.map(pathOf)) {
    early[path] = ask(path);
    // Who takes it sees the failure, too.
    early[path].catch(() => undefined);
  }
}

const me = ask(pathOf('me'));
const answers: Early = { [pathOf('me')]: me };
const isToday = /^(#\/?(today)?)?$/.test(location.hash);
const asked = (isToday ? askForToday(answers, me) : me).then(
  () => undefined,
  () => undefined,
);
(globalThis as { welcombEarly?: { answers: Early; asked: Promise<void> } }).welcombEarly = { answers, asked };
