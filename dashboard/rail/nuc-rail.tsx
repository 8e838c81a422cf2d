/** A nuc's rail as the room allows: lying where there is width for it, standing where there is not. */
import type { Rail } from '../../server/contract/nucs.ts';
import { Legend } from './legend.tsx';
import { HorizontalRail } from './horizontal-rail.tsx';
import { VerticalRail } from './vertical-rail.tsx';
import { horizontalRailFromPx } from './sizes.ts';
import { useWidth } from './use-width.ts';

export function NucRail({ rail }: { rail: Rail }) {
  const { ref, width } = useWidth<HTMLDivElement>();
  return (
    <div class="nuc-rail">
      <div ref={ref} class="rail-room">
        {width === 0 ? null : width >= horizontalRailFromPx ? (
          <HorizontalRail rail={rail} width={width} />
        ) : (
          <VerticalRail rail={rail} />
        )}
      </div>
      <Legend inWords={rail.inWords} />
    </div>
  );
}
