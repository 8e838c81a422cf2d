/** On a phone the nucs stand in words, a line each; their rails side by side, days running down, follow. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import { fixed } from '../format/units.ts';
import { hashFor } from '../route.ts';
import type { Aligned } from './aligned.ts';
import { alignedOn } from './aligned.ts';
import { evenScale } from './frame.ts';
import { NucWords } from './nuc-words.tsx';
import type { Extent } from './frame.ts';
import { RailSummary } from './rail-summary.tsx';

interface RailsProps {
  readonly items: readonly NucSummary[];
  readonly extent: Extent;
  readonly align: Aligned;
}

const perDay = 13;

export function VerticalRails({ items, extent, align }: RailsProps) {
  const length = (extent.toDay - extent.fromDay) * perDay + 16;
  const standing = items.filter((one) => one.rail && alignedOn(one, align) !== undefined);
  if (standing.length === 0) return null;
  return (
    <div class="rails-standing">
      <Days extent={extent} length={length} align={align} />
      <div class="columns" tabIndex={0} role="group" aria-label="Rails side by side">
        {standing.map((one) => (
          <a key={one.hive.id} class="column" href={hashFor('nucs', one.hive.id)}>
            <span class="column-name">
              <bdi>{one.hive.name}</bdi>
            </span>
            {one.rail && (
              <RailSummary
                rail={one.rail}
                extent={extent}
                zero={alignedOn(one, align) ?? 0}
                length={length}
                standing
              />
            )}
          </a>
        ))}
      </div>
    </div>
  );
}

export const NucList = ({ items }: Pick<RailsProps, 'items'>) => (
  <ul class="nuc-list">
    {items.map((one) => (
      <li key={one.hive.id}>
        <a href={hashFor('nucs', one.hive.id)}>
          <NucWords one={one} />
        </a>
      </li>
    ))}
  </ul>
);

function Days({ extent, length, align }: { extent: Extent; length: number; align: Aligned }) {
  const at = evenScale(extent.fromDay, extent.toDay, 8, length - 8);
  const days: number[] = [];
  for (let day = Math.ceil(extent.fromDay / 7) * 7; day <= extent.toDay; day += 7) days.push(day);
  return (
    <svg class="rail days" width="46" height={length} aria-hidden="true">
      {days.map((day) => (
        <text key={day} class="words soft" x="0" y={at(day) + 4}>
          {day === 0 ? align : fixed(day, 0)}
        </text>
      ))}
    </svg>
  );
}
