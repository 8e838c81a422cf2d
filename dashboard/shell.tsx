/** What stands around every page: the names of the pages, how live the page is, what is unsent. */
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { count } from './format/units.ts';
import { age, dayAndTime, deviceZone } from './format/when.ts';
import { SettingFaults } from './parts/setting-faults.tsx';
import { hashFor, route } from './route.ts';
import { clock, heardAt, connection } from './state/live.ts';
import { openAlerts, sites } from './state/farm.ts';
import { useResource } from './state/resource.ts';
import { me } from './state/session.ts';
import { UnsentNote } from './visit/unsent-note.tsx';

interface Name {
  readonly page: string;
  readonly words: string;
}
const first: readonly Name[] = [
  { page: 'today', words: 'Today' },
  { page: 'nucs', words: 'Nucs' },
  { page: 'log', words: 'Log a visit' },
];
const rest: readonly Name[] = [
  { page: 'plan', words: 'Plan' },
  { page: 'review', words: 'Review' },
  { page: 'sensors', words: 'Sensors' },
  { page: 'settings', words: 'Settings' },
];

export function Shell({ children }: { children: ComponentChildren }) {
  const { page, id } = route.value;
  // Whatever page is open: the number of alerts that wait for somebody now stands beside its name.
  useResource(openAlerts);
  // Times are shown and written down in the zone of the site, on every page.
  useResource(sites);
  // Before there is a password nobody is told anything.
  const isKnown = me.value?.signedIn === true;
  const main = useRef<HTMLElement>(null);
  const seen = useRef(false);
  useEffect(() => {
    // A new page: readers and keyboards start at its heading, but not when the page is first opened.
    if (seen.current) {
      main.current?.focus({ preventScroll: true });
      scrollTo(0, 0);
    }
    seen.current = true;
  }, [page, id]);
  return (
    <>
      <a
        class="skip"
        href="#main"
        onClick={(event) => {
          event.preventDefault();
          main.current?.focus();
        }}
      >
        Skip to the page
      </a>
      <header class="top">
        <a class="name" href={hashFor('today')}>
          Welcomb
        </a>
        {isKnown && (
          <>
            <Pages page={page} />
            <ConnectionStatus />
          </>
        )}
      </header>
      {me.value?.demo === true && <p class="demo-note">An invented farm: nothing here is real.</p>}
      <SettingFaults />
      <UnreadableNote />
      <UnsentNote />
      <main id="main" ref={main} tabIndex={-1}>
        {children}
      </main>
    </>
  );
}

/** In sight on every page: something that was stored is missing from what is shown. */
function UnreadableNote() {
  const rows = me.value?.unreadable ?? 0;
  if (rows === 0) return null;
  return (
    <p class="unsent" role="status">
      <a href={hashFor('settings')}>
        {count(rows, 'stored record', 'stored records')} can’t be read and {rows === 1 ? 'is' : 'are'} not
        used: see Settings
      </a>
    </p>
  );
}

function Pages({ page }: { page: string }) {
  const more = useRef<HTMLDetailsElement>(null);
  const { id } = route.value;
  useEffect(() => {
    if (more.current) more.current.open = false;
  }, [page, id]);
  const inRest = rest.some((name) => name.page === page);
  return (
    <nav aria-label="Pages">
      <ul class="pages">
        {first.map((name) => (
          <PageLink key={name.page} name={name} page={page} />
        ))}
        {rest.map((name) => (
          <PageLink key={name.page} name={name} page={page} wideOnly />
        ))}
        <li class="more">
          <details ref={more}>
            <summary
              aria-label={inRest ? 'More pages, one of them open' : 'More pages'}
              class={inRest ? 'here' : ''}
            >
              More
            </summary>
            <ul>
              {rest.map((name) => (
                <PageLink key={name.page} name={name} page={page} />
              ))}
            </ul>
          </details>
        </li>
      </ul>
    </nav>
  );
}

function PageLink({ name, page, wideOnly = false }: { name: Name; page: string; wideOnly?: boolean }) {
  const urgent =
    name.page === 'today'
      ? openAlerts.snapshot.value.data?.items.filter(
          (a) => a.urgency === 'now' && a.phase === 'raised' && !a.seenBy,
        ).length
      : 0;
  return (
    <li class={wideOnly ? 'wide-only' : ''}>
      <a href={hashFor(name.page)} aria-current={page === name.page ? 'page' : undefined}>
        {name.words}
        {urgent !== undefined && urgent > 0 && <span class="urgent-count">{urgent} now</span>}
      </a>
    </li>
  );
}

/** How old what is shown may be is always in sight. */
function ConnectionStatus() {
  const heard = heardAt.value;
  const now = clock.value;
  if (connection.value === 'live' && heard !== undefined) {
    return (
      <p class="line live">
        live<span class="soft">, heard {age(now - heard)} ago</span>
      </p>
    );
  }
  if (connection.value === 'connecting') return <p class="line">connecting …</p>;
  return (
    <p class="line lost" role="status">
      <b>not live.</b>{' '}
      {heard === undefined
        ? 'The server does not answer.'
        : `Shown as of ${dayAndTime(heard, deviceZone(), now)}, ${age(now - heard)} ago.`}
    </p>
  );
}
