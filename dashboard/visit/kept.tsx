/** What became of a visit that was written down, what is next, and the way back. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { newId } from '../api/client.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { hashFor } from '../route.ts';
import { serverNow } from '../state/live.ts';
import { undo, unsent } from './outbox.ts';
import type { RememberedNuc } from './remembered-nucs.ts';
import type { Unsent } from './unsent.ts';

function stateWords(written: readonly Unsent[]): string {
  const ids = new Set(written.map(({ entry }) => entry.id));
  const waiting = unsent.value.filter(({ entry }) => ids.has(entry.id));
  if (waiting.length === 0) return 'Sent, and stored by the server.';
  return waiting.some(({ problems }) => problems.length > 0)
    ? 'The server did not take all of it; see below.'
    : 'Kept on this device, not sent yet. It is sent by itself when the server can be reached.';
}

export function Kept({ written, nucs }: { written: readonly Unsent[]; nucs: readonly RememberedNuc[] }) {
  const [back, setBack] = useState(false);
  const section = useRef<HTMLElement>(null);
  // The button that was pressed is gone with the form.
  useEffect(() => {
    section.current?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }, [back]);
  const [one, ...others] = nucs;
  if (!one) return null;
  if (back) {
    return (
      <section ref={section} tabIndex={-1} class="kept" role="status">
        <h2>Taken back.</h2>
        <p class="kept-next">
          <a class="button main" href={hashFor('log')}>
            Log a visit
          </a>
        </p>
      </section>
    );
  }
  return (
    <section ref={section} tabIndex={-1} class="kept" role="status">
      <h2>{others.length === 0 ? 'Written down.' : `Written down for ${String(nucs.length)} nucs.`}</h2>
      <p>{stateWords(written)}</p>
      <p class="kept-next">
        {others.length === 0 && (
          <a class="button" href={hashFor('log', undefined, { nuc: one.id, then: written[0]?.entry.id })}>
            <span>
              More for <bdi>{one.name}</bdi>
            </span>
          </a>
        )}
        <a class="button main" href={hashFor('log')}>
          Next nuc
        </a>
        {others.length === 0 && (
          <a class="button" href={hashFor('nucs', one.id)}>
            Its page
          </a>
        )}
        <ActionButton
          run={async () => {
            await undo(written, newId, Math.round(serverNow.peek()));
            setBack(true);
          }}
        >
          Undo
        </ActionButton>
      </p>
    </section>
  );
}
