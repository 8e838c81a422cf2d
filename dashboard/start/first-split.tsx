/** The introduction is opened on the nuc's own page; the split is logged like every visit. */
import { OpenIntroduction } from '../nuc/open-introduction.tsx';
import { hashFor } from '../route.ts';
import { nuc, nucs } from '../state/farm.ts';
import { ResourceView } from '../parts/resource-view.tsx';
import { useResource } from '../state/resource.ts';

export function FirstSplit() {
  const first = useResource(nucs).data?.items[0];
  if (!first) return null;
  return (
    <ResourceView of={nuc(first.hive.id)} what="your nuc">
      {(one) =>
        one.introductionId === null ? (
          <OpenIntroduction one={one} />
        ) : (
          <>
            <p>
              The plan stands. When the split is made, write it down; a split of earlier days can be written
              with its own day.
            </p>
            <p class="kept-next">
              <a
                class="button main"
                href={hashFor('log', undefined, { nuc: one.hive.id, kind: 'split-made' })}
              >
                Log the split
              </a>
              <a class="button" href={hashFor('nucs', one.hive.id)}>
                See its rail
              </a>
            </p>
          </>
        )
      }
    </ResourceView>
  );
}
