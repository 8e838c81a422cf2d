import { render } from 'preact';
import { useEffect } from 'preact/hooks';
import './styles/index.css';
import { Lazy } from './lazy.tsx';
import { Today } from './pages/today.tsx';
import { LoadFailed, Loading } from './parts/resource-view.tsx';
import { earlyAsked, forgetEarly } from './api/client.ts';
import { whenIdle } from './when-idle.ts';
import { startNotifications } from './state/browser-notifications.ts';
import { registerOffline } from './offline/register.ts';
import { followAddress, hashFor, route } from './route.ts';
import { Shell } from './shell.tsx';
import { listen, startClock, stopListening } from './state/live.ts';
import { applyTheme, recall, theme } from './state/preferences.ts';
import { nearPlan, nucs, openAlerts, sites } from './state/farm.ts';
import { expectSignOut, loadMe, mayKeep, me, meTrouble } from './state/session.ts';
import { startSending } from './visit/outbox.ts';

const pages = {
  nucs: () => import('./pages/nucs.tsx'),
  nuc: () => import('./pages/nuc.tsx'),
  log: () => import('./pages/log.tsx'),
  plan: () => import('./pages/plan.tsx'),
  labels: () => import('./pages/labels.tsx'),
  takeover: () => import('./pages/take-over.tsx'),
  review: () => import('./pages/review.tsx'),
  sensors: () => import('./pages/sensors.tsx'),
  settings: () => import('./pages/settings.tsx'),
  start: () => import('./pages/start.tsx'),
  signIn: () => import('./pages/sign-in.tsx'),
};

const titles: Readonly<Record<string, string>> = {
  today: 'Today',
  nucs: 'Nucs',
  log: 'Log a visit',
  plan: 'Plan',
  labels: 'Labels',
  takeover: 'Nucs under way',
  review: 'Review',
  sensors: 'Sensors',
  settings: 'Settings',
  start: 'First steps',
};

function App() {
  const now = me.value;
  const signedIn = now?.signedIn === true;
  const isFirst = now?.passwordSet === false;
  const { page, id } = route.value;
  useEffect(() => {
    document.title = `${titles[page] ?? 'Welcomb'} · Welcomb`;
  }, [page]);
  useEffect(() => {
    if (!signedIn) return undefined;
    listen();
    whenIdle(startSending);
    return stopListening;
  }, [signedIn]);
  const leads = (signedIn || isFirst) && needsFirstSteps() && page === 'today';
  useEffect(() => {
    // The address says so too: the steps go on to the split, although there is a nuc to show by then.
    if (leads) location.replace(hashFor('start'));
  }, [leads]);
  if (!now) {
    return meTrouble.value ? (
      <LoadFailed words={meTrouble.value.message} again={() => void loadMe()} />
    ) : (
      <Loading what="your farm" />
    );
  }
  if (!signedIn && !isFirst) return <Lazy key="sign-in" of={pages.signIn} />;
  return <Shell>{pageFor(leads || !signedIn ? 'start' : page, id)}</Shell>;
}

async function followPush(): Promise<void> {
  // Without an answer it is tried again when the page is next opened.
  if (mayKeep.value)
    await import('./state/push.ts').then((push) => push.followChanges()).catch(() => undefined);
}

/** A server with nothing in it leads through the first steps instead of showing empty pages. */
function needsFirstSteps(): boolean {
  const setUp = me.value?.setUp;
  return setUp !== undefined && !(setUp.site && setUp.nuc);
}

function pageFor(page: string, id: string | undefined) {
  switch (page) {
    case 'nucs':
      return id === undefined ? (
        <Lazy key="nucs" of={pages.nucs} />
      ) : (
        <Lazy key={`nuc-${id}`} of={pages.nuc} />
      );
    case 'log':
    case 'plan':
    case 'labels':
    case 'takeover':
    case 'review':
    case 'sensors':
    case 'settings':
    case 'start':
      return <Lazy key={page} of={pages[page]} />;
    default:
      return <Today />;
  }
}

applyTheme(theme.value);
followAddress();
expectSignOut();
startClock();
startNotifications();
async function firstAnswers(): Promise<void> {
  await loadMe();
  await earlyAsked();
  const first =
    me.value?.signedIn === true && route.value.page === 'today' ? [sites, openAlerts, nearPlan, nucs] : [];
  const asked = first.map((one) => one.reload());
  forgetEarly();
  // The nucs stand below what is seen first.
  await Promise.all(asked.slice(0, 3));
}
const answers = firstAnswers();
whenIdle(registerOffline);
// Whatever page is opened at home: out of reach of the server a visit is logged from what is remembered of each nuc.
whenIdle(() => void import('./visit/remembered-nucs.ts'));

whenIdle(() => {
  if (recall('welcomb.push') !== null) void answers.then(followPush);
});

/** Answers that come in so short a time are drawn once; otherwise it is drawn what is being waited for. */
const holdMs = 250;
const held = new Promise((resolve) => {
  setTimeout(resolve, holdMs);
});
void Promise.race([answers, held]).then(() => {
  const root = document.getElementById('page');
  if (!root) return;
  root.textContent = '';
  render(<App />, root);
});
