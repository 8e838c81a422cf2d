/** The rails of the nucs that need something, on one scale. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import { extentOf } from '../rail/aligned.ts';
import { Legend } from '../rail/legend.tsx';
import { HorizontalRails } from '../rail/horizontal-rails.tsx';
import { VerticalRails } from '../rail/vertical-rails.tsx';
import { horizontalRailsFromPx } from '../rail/sizes.ts';
import { useWidth } from '../rail/use-width.ts';
import { count } from '../format/units.ts';
import { hashFor } from '../route.ts';
import { nucsNeedingAttention } from './nucs-needing-attention.ts';

export function AttentionRails({ items }: { items: readonly NucSummary[] }) {
  const { ref, width } = useWidth<HTMLElement>();
  const those = nucsNeedingAttention(items);
  if (items.length === 0) return null;
  const extent = extentOf(those, 'split');
  return (
    <section ref={ref} class="card" aria-label="Rails">
      <h2>{those.length === 0 ? 'The nucs' : 'Those that need something, on their rails'}</h2>
      {those.length > 0 &&
        (width >= horizontalRailsFromPx ? (
          <HorizontalRails items={those} extent={extent} align="split" width={width} />
        ) : (
          // On a narrow page there is no room for the other ones, whatever the width turns out to be.
          (width > 0 || innerWidth < horizontalRailsFromPx) && (
            <VerticalRails items={those} extent={extent} align="split" />
          )
        ))}
      {those.length > 0 && <Legend />}
      <p>
        <a class="tall" href={hashFor('nucs')}>
          {items.length === 1 ? 'The nuc on its rail' : `All ${count(items.length, 'nuc')} on their rails`}
        </a>
      </p>
    </section>
  );
}
