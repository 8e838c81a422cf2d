/** The rails of the nucs that need something, on one scale, where the page is wide enough to have them beside the rest. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import { extentOf } from '../rail/aligned.ts';
import { HorizontalRails } from '../rail/horizontal-rails.tsx';
import { horizontalRailsFromPx } from '../rail/sizes.ts';
import { useWidth } from '../rail/use-width.ts';
import { nucsNeedingAttention } from './nucs-needing-attention.ts';

export function AttentionRails({ items }: { items: readonly NucSummary[] }) {
  const { ref, width } = useWidth<HTMLDivElement>();
  const those = nucsNeedingAttention(items);
  if (those.length === 0) return null;
  return (
    <div ref={ref}>
      {width >= horizontalRailsFromPx && (
        <section class="card" aria-label="Rails">
          <h2>Nucs that need you</h2>
          <HorizontalRails items={those} extent={extentOf(those, 'split')} align="split" width={width - 42} />
        </section>
      )}
    </div>
  );
}
