/** What is due first, each group of nucs as one entry; then every nuc by its site. */
import { useState } from 'preact/hooks';
import { Text } from '../parts/fields.tsx';
import { byName } from '../format/names.ts';
import { lowerFirst } from '../format/sentences.ts';
import { hashFor } from '../route.ts';
import { formFor } from './by-method.ts';
import { dueGroups } from './expected.ts';
import type { DueGroup } from './expected.ts';
import type { RememberedNuc } from './remembered-nucs.ts';

const searchFrom = 20;

export function ChooseNucs({ all }: { all: readonly RememberedNuc[] }) {
  const [search, setSearch] = useState('');
  const wanted = search.trim().toLocaleLowerCase();
  const found = all.filter((one) => `${one.name} ${one.siteName}`.toLocaleLowerCase().includes(wanted));
  const groups = dueGroups(found);
  const sites = [...new Set(found.map(({ siteName }) => siteName))].sort(byName);
  return (
    <>
      {all.length >= searchFrom && <Text label="Find by name or site" value={search} onValue={setSearch} />}
      {groups.length > 0 && (
        <section aria-label="Due now">
          <h2>Due now</h2>
          <ul class="big-rows">
            {groups.map((group) => (
              <Group key={`${group.siteName} ${group.acts.join()} ${group.label}`} group={group} />
            ))}
          </ul>
        </section>
      )}
      <section aria-label="Which nuc?">
        <h2>Which nuc?</h2>
        {sites.map((site) => (
          <div key={site}>
            <h3>
              <bdi>{site}</bdi>
            </h3>
            <ul class="nuc-names">
              {found
                .filter(({ siteName }) => siteName === site)
                .map((one) => (
                  <li key={one.id}>
                    <a class="button" href={hashFor('log', undefined, { nuc: one.id })}>
                      <bdi>{one.name}</bdi>
                    </a>
                  </li>
                ))}
            </ul>
          </div>
        ))}
        {found.length === 0 && <p class="soft">No nuc has that name.</p>}
      </section>
    </>
  );
}

const most = 6;

function Group({ group: { acts, label, nucs, siteName, overdue } }: { group: DueGroup }) {
  const [first] = nucs;
  // A look into the box is for something: it is called what the plan calls it.
  const titles = acts.includes('inspection')
    ? [label]
    : acts.map((kind) => formFor(kind, first?.setup?.method).title);
  const named = nucs.slice(0, most).map(({ name }) => name);
  const address =
    nucs.length === 1
      ? { nuc: first?.id }
      : { nucs: nucs.map(({ id }) => id).join(','), kinds: acts.join(',') };
  return (
    <li>
      <a class="due-group" href={hashFor('log', undefined, address)}>
        <b>{titles.map((title, i) => (i === 0 ? title : lowerFirst(title))).join(', ')}</b>
        <span class={overdue ? 'due-words overdue' : 'soft'}>
          {overdue && 'overdue: '}
          <bdi>{named.join(', ')}</bdi>
          {nucs.length > most && ` and ${String(nucs.length - most)} more`} · <bdi>{siteName}</bdi>
        </span>
      </a>
    </li>
  );
}
