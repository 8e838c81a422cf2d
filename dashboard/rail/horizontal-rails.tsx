/** One row a nuc: its name and what is next at the left, its rail on the shared scale at the right. */
import type { NucSummary } from '../../server/contract/nucs.ts';
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

const wordsWide = 270;

export function HorizontalRails({ items, extent, align, width }: RailsProps & { width: number }) {
  const length = width - wordsWide;
  return (
    <div class="rails-lying">
      <Scale extent={extent} length={length} align={align} />
      <ul>
        {items.map((one) => {
          const zero = alignedOn(one, align);
          return (
            <li key={one.hive.id} class="rail-row">
              <a href={hashFor('nucs', one.hive.id)}>
                <NucWords one={one} />
              </a>
              {one.rail && zero !== undefined && (
                <RailSummary rail={one.rail} extent={extent} zero={zero} length={length} standing={false} />
              )}
            </li>
          );
        })}
      </ul>
    </div>
  );
}

function Scale({ extent, length, align }: { extent: Extent; length: number; align: Aligned }) {
  const at = evenScale(extent.fromDay, extent.toDay, 8, length - 8);
  const days: number[] = [];
  for (let day = Math.ceil(extent.fromDay / 7) * 7; day <= extent.toDay; day += 7) days.push(day);
  return (
    <svg class="rail scale" width={length} height="22" aria-hidden="true">
      {days.map((day) => (
        <text
          key={day}
          class="words soft"
          x={Math.min(length - 34, Math.max(day === 0 ? 0 : 18, at(day) - (day === 0 ? 4 : 0)))}
          y="15"
          text-anchor={day === 0 ? 'start' : 'middle'}
        >
          {day === 0 ? align : `${day > 0 ? '' : '−'}${String(Math.abs(day))}`}
        </text>
      ))}
    </svg>
  );
}
