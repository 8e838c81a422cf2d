/** After release, nuc by nuc: what agrees with a laying queen, and what does not. */
import { useState } from 'preact/hooks';
import type { NucSummary } from '../../server/contract/nucs.ts';
import { releaseDay } from '../rail/release-day.ts';
import { NucRail } from '../rail/nuc-rail.tsx';
import { Caution } from '../parts/caution.tsx';
import { Select } from '../parts/fields.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { Signals } from '../nuc/signals.tsx';
import { hashFor } from '../route.ts';
import { nuc, nucs } from '../state/farm.ts';

const isReleased = (one: NucSummary): boolean => {
  const day = one.rail ? releaseDay(one.rail) : undefined;
  return day !== undefined && one.day !== null && day < one.day;
};

export function AfterRelease() {
  return (
    <ResourceView of={nucs} what="the nucs">
      {(data) => <Released items={data.items.filter(isReleased)} />}
    </ResourceView>
  );
}

function Released({ items }: { items: readonly NucSummary[] }) {
  const [id, setId] = useState('');
  const one = items.find((each) => each.hive.id === id) ?? items[0];
  if (!one) {
    return <EmptyState title="No queen is out of her cage yet." />;
  }
  return (
    <>
      <Select
        label="Nuc"
        value={one.hive.id}
        onValue={setId}
        options={items.map((each) => ({ value: each.hive.id, words: `${each.hive.name}, ${each.siteName}` }))}
      />
      <ResourceView of={nuc(one.hive.id)} what="this nuc">
        {(detail) => (
          <>
            {detail.rail && <NucRail rail={detail.rail} />}
            <Signals one={detail} />
            <Caution about="alive" />
            <p>
              <a class="button" href={hashFor('nucs', detail.hive.id)}>
                Everything about this nuc
              </a>
            </p>
          </>
        )}
      </ResourceView>
    </>
  );
}
