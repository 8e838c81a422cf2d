/** One nuc's rail standing up, for a phone: days run down, the words stand beside them at full size. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Rail } from '../../server/contract/nucs.ts';
import { fixed } from '../format/units.ts';
import { dateInWords } from '../format/when.ts';
import type { Frame } from './frame.ts';
import { rowScale } from './frame.ts';
import type { Row } from './rows.ts';
import { rowsOf } from './rows.ts';
import { RailShapes } from './rail-shapes.tsx';
import { VerticalTraces } from './vertical-traces.tsx';

const above = 30;
const below = 13;
const wide = above + below + 18;
/** Day, date and rail, and some air; what is left of the width is for the traces. */
const beforeTraces = 198;

export function VerticalRail({ rail }: { rail: Rail }) {
  const rows = rowsOf(rail);
  const list = useRef<HTMLOListElement>(null);
  const [tops, setTops] = useState<readonly number[]>([]);
  const [room, setRoom] = useState(0);
  const [traces, setTraces] = useState(false);
  useLayoutEffect(() => {
    const element = list.current;
    if (!element) return undefined;
    const measure = (): void => {
      const items = [...element.children] as HTMLElement[];
      const end = items.at(-1);
      setRoom(element.clientWidth);
      setTops([...items.map((item) => item.offsetTop), end ? end.offsetTop + end.offsetHeight : 0]);
    };
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    measure();
    return () => {
      observer.disconnect();
    };
  }, [rail, traces]);
  const first = rows[0]?.day ?? 0;
  const at = rowScale(tops, first);
  const height = tops.at(-1) ?? 0;
  const frame: Frame = { standing: true, at, base: above + 9, above, below };
  return (
    <div class={`rail-down${traces ? ' with-traces' : ''}`}>
      {(rail.nights.length > 0 || rail.brood.length > 0) && (
        <label class="switch">
          <input
            type="checkbox"
            checked={traces}
            onChange={(event) => {
              setTraces(event.currentTarget.checked);
            }}
          />
          <span>weight and warmth beside the days</span>
        </label>
      )}
      <div class="rail-down-grid">
        <ol ref={list} aria-label="The rail, day by day">
          {rows.map((row) => (
            <DayRow key={row.day} row={row} />
          ))}
        </ol>
        <svg class="rail down" width={wide} height={height} aria-hidden="true">
          {tops.length > 1 && <RailShapes rail={rail} frame={frame} mark={6.5} />}
        </svg>
        {traces && tops.length > 1 && (
          <VerticalTraces rail={rail} at={at} height={height} wide={(room - beforeTraces) / 2} />
        )}
      </div>
    </div>
  );
}

function DayRow({ row }: { row: Row }) {
  const quiet = row.words.length === 0 && !row.today;
  return (
    <li class={row.today ? 'is-today' : quiet ? 'quiet' : ''}>
      <span class="day-number">
        <span class="hidden-words">day </span>
        {fixed(row.day, 0)}
      </span>
      <span class="day-date">{!quiet && dateInWords(row.date)}</span>
      <span class="day-words">
        {row.today && <strong>today </strong>}
        {row.words.map((word) => (
          <span key={word.text} class={word.soft ? 'soft' : ''}>
            {word.text}
          </span>
        ))}
      </span>
    </li>
  );
}
