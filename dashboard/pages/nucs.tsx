/** All rails on one scale, so that the odd one out is seen at a glance. */
import { useState } from 'preact/hooks';
import type { NucSummary } from '../../server/contract/nucs.ts';
import { byName } from '../format/names.ts';
import { count } from '../format/units.ts';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { Choice, Text } from '../parts/fields.tsx';
import { Legend } from '../rail/legend.tsx';
import { HorizontalRails } from '../rail/horizontal-rails.tsx';
import { NucList, VerticalRails } from '../rail/vertical-rails.tsx';
import { horizontalRailsFromPx } from '../rail/sizes.ts';
import { useWidth } from '../rail/use-width.ts';
import type { Aligned } from '../rail/aligned.ts';
import type { Extent } from '../rail/frame.ts';
import { alignedOn, extentOf } from '../rail/aligned.ts';
import { hashFor } from '../route.ts';
import { nucs } from '../state/farm.ts';

export default function Nucs() {
  return (
    <>
      <header class="page-head">
        <h1>Nucs</h1>
      </header>
      <ResourceView of={nucs} what="the nucs">
        {(data) => <All items={data.items} />}
      </ResourceView>
    </>
  );
}

const searchFrom = 12;
/** Paddings and edges of the card around each site. */
const cardSidesPx = 42;

function All({ items }: { items: readonly NucSummary[] }) {
  const [align, setAlign] = useState<Aligned>('split');
  const [search, setSearch] = useState('');
  const { ref, width } = useWidth<HTMLDivElement>();
  const wanted = search.trim().toLocaleLowerCase();
  const found = items.filter((one) =>
    `${one.hive.name} ${one.siteName} ${one.hive.batch ?? ''}`.toLocaleLowerCase().includes(wanted),
  );
  const extent = extentOf(found, align);
  const sites = bySite(found);
  const isNarrow = width < horizontalRailsFromPx;
  return (
    <div ref={ref}>
      {items.length === 0 ? (
        <EmptyState title="No nuc yet.">
          <p>
            <a href={hashFor('plan')}>Plan a batch</a>, or <a href={hashFor('start')}>take the first steps</a>
            .
          </p>
        </EmptyState>
      ) : (
        <>
          <div class="controls">
            <Choice
              label="Aligned on"
              value={align}
              onValue={setAlign}
              options={[
                { value: 'split', words: 'the split' },
                { value: 'release', words: 'the release' },
              ]}
            />
            {items.length >= searchFrom && (
              <Text label="Find by name, site or batch" value={search} onValue={setSearch} />
            )}
          </div>
          <p class="soft">{count(found.length, 'nuc')}</p>
          {width > 0 && isNarrow && <Standing sites={sites} extent={extent} align={align} />}
          {width > 0 &&
            !isNarrow &&
            sites.map(([siteName, those]) => (
              <section key={siteName} class="site-rails">
                <h2>
                  <bdi>{siteName}</bdi>
                </h2>
                <HorizontalRails items={those} extent={extent} align={align} width={width - cardSidesPx} />
              </section>
            ))}
          <Legend />
          {found.some((one) => align === 'release' && alignedOn(one, align) === undefined) && (
            <p class="soft">Nucs without a release in sight are listed without a rail.</p>
          )}
        </>
      )}
    </div>
  );
}

interface StandingProps {
  readonly sites: ReturnType<typeof bySite>;
  readonly extent: Extent;
  readonly align: Aligned;
}

/** Every nuc in a line first; the drawings, a screen high, come after all of them. */
const Standing = ({ sites, extent, align }: StandingProps) => (
  <>
    {sites.map(([siteName, those]) => (
      <section key={siteName} class="site-rails">
        <h2>
          <bdi>{siteName}</bdi>
        </h2>
        <NucList items={those} />
      </section>
    ))}
    {sites.map(([siteName, those]) => (
      <section key={siteName} class="site-rails" aria-label={`Rails, ${siteName}`}>
        <VerticalRails items={those} extent={extent} align={align} />
      </section>
    ))}
  </>
);

function bySite(items: readonly NucSummary[]): readonly (readonly [string, readonly NucSummary[]])[] {
  const groups = new Map<string, NucSummary[]>();
  const named = [...items].sort((a, b) => byName(a.hive.name, b.hive.name));
  for (const one of named) groups.set(one.siteName, [...(groups.get(one.siteName) ?? []), one]);
  return [...groups.entries()].sort(([a], [b]) => byName(a, b));
}
