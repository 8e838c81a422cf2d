/** Those with something due first, then all by site. */
import { useState } from 'preact/hooks';
import { hashFor } from '../route.ts';
import { Text } from '../parts/fields.tsx';
import type { RememberedNuc } from './remembered-nucs.ts';

const searchFrom = 12;

export function ChooseNuc({ all }: { all: readonly RememberedNuc[] }) {
  const [search, setSearch] = useState('');
  const wanted = search.trim().toLocaleLowerCase();
  const found = all.filter((one) => `${one.name} ${one.siteName}`.toLocaleLowerCase().includes(wanted));
  const inState = (state: string) => found.filter((one) => one.step?.state === state);
  const due = [...inState('overdue'), ...inState('due')];
  const others = found.filter((one) => !due.includes(one));
  return (
    <section aria-label="Which nuc?">
      <h2>Which nuc?</h2>
      {all.length >= searchFrom && <Text label="Find by name or site" value={search} onValue={setSearch} />}
      <Rows nucs={due} due />
      <Rows nucs={others} />
      {found.length === 0 && <p class="soft">No nuc has that name.</p>}
    </section>
  );
}

function Rows({ nucs, due = false }: { nucs: readonly RememberedNuc[]; due?: boolean }) {
  if (nucs.length === 0) return null;
  return (
    <ul class="big-rows">
      {nucs.map((one) => (
        <li key={one.id}>
          <a href={hashFor('log', undefined, { nuc: one.id })}>
            <span>
              <b>
                <bdi>{one.name}</bdi>
              </b>{' '}
              <span class="soft">
                <bdi>{one.siteName}</bdi>
                {one.day !== null && `, day ${String(Math.floor(one.day))}`}
              </span>
            </span>
            {due && one.step && (
              <span class={`due-words ${one.step.state}`}>
                {one.step.state}: {one.step.label}
              </span>
            )}
          </a>
        </li>
      ))}
    </ul>
  );
}
