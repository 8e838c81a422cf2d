/** One nuc's rail standing up, for a phone: days run down, the words stand beside them at full size. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Rail } from '../../server/http/contract/nucs.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { dateInWords } from '../format/when.ts';
import type { Frame } from './frame.ts';
import { rowScale } from './frame.ts';
import { Strata, firstDay } from './strata.tsx';
import { TracesDown } from './traces-down.tsx';
import { barWordsOn, visitWords, windowWordsOn } from './words.ts';

interface Row {
  readonly day: number;
  readonly date: string;
  readonly today: boolean;
  readonly words: readonly { readonly text: string; readonly soft: boolean }[];
}

/** What starts, ends or is done on each day; days with nothing keep their place with no words. */
export function rowsOf(rail: Rail): readonly Row[] {
  const date0 = localDate(Date.parse(rail.day0), rail.timeZone);
  const first = Math.floor(firstDay(rail));
  const rows: Row[] = [];
  for (let day = first; day <= Math.ceil(rail.lastDay); day += 1) {
    const within = (at: number): boolean => Math.floor(at) === day;
    const strong = [
      ...rail.visits.filter((visit) => within(visit.day)).map(visitWords),
      ...rail.alerts.filter((alert) => within(alert.day)).map((alert) => `Alert: ${alert.text}`),
    ];
    const soft = [
      ...rail.bars.map((bar) => barWordsOn(day, bar)),
      ...rail.windows.map((window) => windowWordsOn(day, window, rail.lastDay)),
    ].filter((words) => words !== undefined);
    rows.push({
      day,
      date: addDays(date0, day),
      today: within(rail.today),
      words: [
        ...strong.map((text) => ({ text, soft: false })),
        ...soft.map((text) => ({ text, soft: true })),
      ],
    });
  }
  return rows;
}

const above = 30;
const below = 13;
const wide = above + below + 18;

export function RailDown({ rail }: { rail: Rail }) {
  const rows = rowsOf(rail);
  const list = useRef<HTMLOListElement>(null);
  const [tops, setTops] = useState<readonly number[]>([]);
  const [traces, setTraces] = useState(false);
  useLayoutEffect(() => {
    const element = list.current;
    if (!element) return undefined;
    const measure = (): void => {
      const items = [...element.children] as HTMLElement[];
      const end = items.at(-1);
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
          {tops.length > 1 && <Strata rail={rail} frame={frame} mark={6.5} />}
        </svg>
        {traces && tops.length > 1 && <TracesDown rail={rail} at={at} height={height} />}
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
        {row.day}
      </span>
      <span class="day-date">
        {dateInWords(row.date).slice(0, row.words.length > 0 || row.today ? 99 : 6)}
      </span>
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
